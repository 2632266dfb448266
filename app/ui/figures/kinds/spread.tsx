import type { FigureKind } from '../figureKind';
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
    text: string;
    note: string;
    /** The first row of a car. */
    strong: boolean;
  }[];
  estimate: { value: number; label: string };
  axisLabel: string;
}

export const spread: FigureKind<SpreadData> = {
  draw: (frame, { rows, estimate, axisLabel }) =>
    drawRowChart(frame, {
      values: rows.flatMap((row) => [row.mean, row.believed]),
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
        marks: ({ x, y }) => (
          <g>
            <path
              d={`M${x(row.mean)} ${y}H${x(row.believed)}`}
              stroke={paint['ink-soft']}
              strokeWidth="1.25"
            />
            <FirstMark x={x(row.mean)} y={y} />
            <SecondMark x={x(row.believed)} y={y} />
          </g>
        ),
      })),
    }),
  legend: () => [
    { label: 'mean of the runs', mark: <FirstMark x={14} y={6} /> },
    { label: 'what is believed of it', mark: <SecondMark x={14} y={6} /> },
  ],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};
