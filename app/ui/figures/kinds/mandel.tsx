import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';

/** One statistic of each car on one axis; ticks stand where a straggler and an outlier begin. */
export interface MandelData {
  kind: 'mandel';
  axisLabel: string;
  rows: readonly {
    key: string;
    label: string;
    value: number;
    text: string;
    verdict: string;
    /** Its row in the table. */
    row: number;
  }[];
  critical: { straggler: number; outlier: number };
  /** h runs to both sides of 0, k from 0 upward. */
  bothSides: boolean;
}

export const mandel: FigureKind<MandelData> = {
  draw: (frame, { rows, axisLabel, critical, bothSides }) => {
    const limits = bothSides ? [critical.straggler, -critical.straggler] : [critical.straggler];
    const outer = bothSides ? [critical.outlier, -critical.outlier] : [critical.outlier];
    return drawRowChart(frame, {
      values: [0, ...rows.map((row) => row.value), ...limits, ...outer],
      axisLabel,
      rows: rows.map((row) => ({
        key: row.key,
        label: row.label,
        value: row.text,
        note: row.verdict === 'consistent' ? undefined : row.verdict,
        strong: row.verdict !== 'consistent',
        row: row.row,
        marks: ({ x, y }) => (
          <g>
            <path d={`M${x(0)} ${y}H${x(row.value)}`} stroke={paint.accent} strokeWidth="3" />
            {limits.map((limit) => (
              <StragglerTick key={limit} x={x(limit)} y={y} />
            ))}
            {outer.map((limit) => (
              <OutlierTick key={limit} x={x(limit)} y={y} />
            ))}
            <circle cx={x(row.value)} cy={y} r="4.5" fill={paint.accent} stroke={paint.paper} />
          </g>
        ),
      })),
    });
  },
  legend: () => [
    { label: 'a straggler begins', mark: <StragglerTick x={14} y={6} /> },
    { label: 'an outlier begins', mark: <OutlierTick x={14} y={6} /> },
  ],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};

function StragglerTick({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 7}v14`} stroke={paint['ink-soft']} strokeDasharray="3 2" />;
}

function OutlierTick({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 7}v14`} stroke={paint.ink} />;
}
