import type { FigureKind } from '../figureKind';
import { IntervalMark } from '../IntervalMark';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';
import { FirstMark, SecondMark } from './pairs';

/** A ring for the mean, a diamond for what the model makes of it: the line between them is what it does not believe. */
export interface SpreadData {
  kind: 'spread';
  rows: readonly {
    key: string;
    label: string;
    detail?: string;
    mean: number;
    believed: number;
    /** The 95 % interval of what is believed. */
    ends?: readonly [number, number];
    text: string;
    note: string;
    /** The first row of a car. */
    strong: boolean;
  }[];
  estimate: { value: number; label: string };
  axisLabel: string;
}

const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: Number.NaN } as const;

export const spread: FigureKind<SpreadData> = {
  draw: (frame, { rows, estimate, axisLabel }) =>
    drawRowChart(frame, {
      values: rows.flatMap((row) => [row.mean, row.believed, ...(row.ends ?? [])]),
      axisLabel,
      reference: estimate,
      rows: rows.map((row, index) => ({
        key: row.key,
        label: row.label,
        detail: row.detail,
        value: row.text,
        note: row.note,
        strong: row.strong,
        ruled: index > 0 && row.strong,
        marks: ({ x, y, domain }) => (
          <g>
            <IntervalMark
              x={x}
              y={y}
              domain={domain}
              estimate={Number.NaN}
              outerLow={row.ends?.[0]}
              outerHigh={row.ends?.[1]}
            />
            <path
              d={`M${x(row.mean)} ${y}H${x(row.believed)}`}
              stroke={paint['ink-soft']}
              strokeWidth="2.5"
            />
            <FirstMark x={x(row.mean)} y={y} />
            <SecondMark x={x(row.believed)} y={y} />
          </g>
        ),
      })),
    }),
  legend: ({ rows }) => [
    { label: 'mean of the runs', mark: <FirstMark x={14} y={6} /> },
    { label: 'what is believed of it', mark: <SecondMark x={14} y={6} /> },
    ...(rows.some(({ ends }) => ends)
      ? [{ label: '95 % interval of that', mark: <IntervalMark {...own} outerLow={1} outerHigh={27} /> }]
      : []),
  ],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};
