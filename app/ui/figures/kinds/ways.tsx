import type { FigureKind } from '../figureKind';
import { IntervalMark } from '../IntervalMark';
import { paint } from '../paint';
import { drawRowChart, type RowSpace } from '../rowChart';
import { ZERO_LINE } from '../zeroLine';

export interface WayRow {
  key: string;
  label: string;
  /** Left out where the row is a span of several numbers. */
  estimate?: number;
  ends?: readonly [number, number];
  /** Ready to read: "−3.1 (−5.0 to −1.2)". */
  text: string;
  /** The number that all the others stand beside. */
  strong?: boolean;
}

/** One number come by in several ways, on a common axis with the zero line. */
export interface WaysData {
  kind: 'ways';
  rows: readonly WayRow[];
  axisLabel: string;
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: 14, low: 3, high: 25 } as const;

export const ways: FigureKind<WaysData> = {
  draw: (frame, { rows, axisLabel }) =>
    drawRowChart(frame, {
      values: rows.flatMap(({ estimate, ends = [] }) => [
        ...(estimate === undefined ? [] : [estimate]),
        ...ends,
      ]),
      axisLabel,
      reference: ZERO_LINE,
      rows: rows.map((row, i) => ({
        key: row.key,
        label: row.label,
        value: row.text,
        strong: row.strong,
        ruled: i === 1,
        marks: (space) => <Mark space={space} row={row} />,
      })),
    }),
  legend: () => [
    { label: 'as published', mark: <IntervalMark {...own} /> },
    { label: 'another way', mark: <IntervalMark {...own} muted /> },
  ],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};

function Mark({ space, row }: { space: RowSpace; row: WayRow }) {
  const { x, y } = space;
  const [low, high] = row.ends ?? [];
  if (row.estimate !== undefined) {
    return <IntervalMark {...space} estimate={row.estimate} low={low} high={high} muted={!row.strong} />;
  }
  if (low === undefined || high === undefined) return null;
  return (
    <path
      d={`M${x(low)} ${y}H${x(high)}M${x(low)} ${y - 5}v10M${x(high)} ${y - 5}v10`}
      stroke={paint.ink}
      strokeWidth="1.5"
    />
  );
}
