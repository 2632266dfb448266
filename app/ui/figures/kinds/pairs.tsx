import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';

export interface SessionPair {
  key: string;
  /** Which session: car, loop and day. */
  label: string;
  first: number;
  second: number;
  /** The difference, ready to read. */
  text: string;
  note?: string;
}

/** Two setups driven in one session, joined: weather, car and loop were the same for both ends. */
export interface PairsData {
  kind: 'pairs';
  pairs: readonly SessionPair[];
  firstLabel: string;
  secondLabel: string;
  axisLabel: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
}

export const pairs: FigureKind<PairsData> = {
  draw: (frame, data) =>
    drawRowChart(frame, {
      values: data.pairs.flatMap((pair) => [pair.first, pair.second]),
      domain: data.domain,
      axisLabel: data.axisLabel,
      formatTick: data.formatTick,
      rows: data.pairs.map((pair) => ({
        key: pair.key,
        label: pair.label,
        value: pair.text,
        note: pair.note,
        marks: ({ x, y }) => (
          <g>
            <path d={`M${x(pair.first)} ${y}H${x(pair.second)}`} stroke={paint.accent} strokeWidth="1.5" />
            <FirstMark x={x(pair.first)} y={y} />
            <SecondMark x={x(pair.second)} y={y} />
          </g>
        ),
      })),
    }),
  legend: ({ firstLabel, secondLabel }) => [
    { label: firstLabel, mark: <FirstMark x={14} y={6} /> },
    { label: secondLabel, mark: <SecondMark x={14} y={6} /> },
  ],
  rows: {
    count: (data) => data.pairs.length,
    first: (data, count) => ({ ...data, pairs: data.pairs.slice(0, count) }),
  },
};

/** A ring for where it began. */
export function FirstMark({ x, y }: { x: number; y: number }) {
  return <circle cx={x} cy={y} r="4.5" fill={paint.paper} stroke={paint.ink} strokeWidth="1.5" />;
}

/** A diamond for where it ended. */
export function SecondMark({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 5.5}l5.5 5.5l-5.5 5.5l-5.5 -5.5z`} fill={paint.accent} />;
}
