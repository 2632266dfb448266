import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { IntervalMark } from '../IntervalMark';
import { drawRowChart } from '../rowChart';
import { ZERO_LINE } from '../zeroLine';

export interface ForestRow {
  key: string;
  label: string;
  estimate: number;
  /** The interval for this difference taken alone. */
  pointwise?: readonly [number, number];
  /** The wider interval that holds for all differences shown at once. */
  simultaneous: readonly [number, number];
  /** Ends of a third interval between the two, as strokes on the thin line. */
  strokes?: readonly [number, number];
  /** The difference with its interval, ready to read: "−3.1 % (−5.0 to −1.2)". */
  text: string;
  /** "settled", "undecided", "indirect over 2 cars". */
  note?: string;
  /** Set where the difference is undecided. */
  muted?: boolean;
  /** Its row in the table, where that has rows that are not drawn. */
  row?: number;
}

/** Differences against no difference: does the interval reach over the line? */
export interface ForestData {
  kind: 'forest';
  rows: readonly ForestRow[];
  /** For example "Difference from standard height, %". */
  axisLabel: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
  /** What the thick bar, the strokes and the thin bar are, for the legend. */
  markLabel: string;
  strokesLabel?: string;
  outerLabel: string;
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: Number.NaN } as const;

export const forest: FigureKind<ForestData> = {
  draw: (frame, { rows, axisLabel, domain, formatTick }) =>
    drawRowChart(frame, {
      values: rows.flatMap((row) => [
        row.estimate,
        ...row.simultaneous,
        ...(row.pointwise ?? []),
        ...(row.strokes ?? []),
      ]),
      domain,
      axisLabel,
      formatTick,
      reference: ZERO_LINE,
      rows: rows.map((row) => ({
        key: row.key,
        label: row.label,
        value: row.text,
        note: row.note,
        muted: row.muted,
        row: row.row,
        marks: (space) => (
          <IntervalMark
            {...space}
            estimate={row.estimate}
            low={row.pointwise?.[0]}
            high={row.pointwise?.[1]}
            outerLow={row.simultaneous[0]}
            outerHigh={row.simultaneous[1]}
            strokes={row.strokes}
            muted={row.muted}
          />
        ),
      })),
    }),
  legend: ({ rows, markLabel, strokesLabel = 'strokes: a third interval', outerLabel }) => [
    ...(rows.some((row) => row.pointwise)
      ? [{ label: markLabel, mark: <IntervalMark {...own} estimate={14} low={3} high={25} /> }]
      : []),
    { label: outerLabel, mark: <IntervalMark {...own} outerLow={1} outerHigh={27} /> },
    ...(rows.some((row) => row.strokes)
      ? [
          {
            label: strokesLabel,
            mark: <IntervalMark {...own} outerLow={1} outerHigh={27} strokes={[5, 23]} />,
          },
        ]
      : []),
    ...(rows.some((row) => row.muted)
      ? [{ label: 'undecided', mark: <IntervalMark {...own} estimate={14} low={3} high={25} muted /> }]
      : []),
  ],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};
