import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';

/** How far single values may lie: nothing of where a mean does. */
export interface OpenBandData {
  kind: 'openBand';
  rows: readonly {
    key: string;
    label: string;
    detail?: string;
    low: number;
    high: number;
    /** The two ends, ready to read. */
    text: string;
  }[];
  axisLabel: string;
  /** What the band is, for the legend. */
  bandLabel: string;
}

const HALF_HEIGHT = 5;

/** Hollow, with open ends and nothing in its middle, so that nobody takes it for an estimate on its interval. */
function OpenBand({ from, to, y }: { from: number; to: number; y: number }) {
  const [top, bottom] = [y - HALF_HEIGHT, y + HALF_HEIGHT];
  return (
    <>
      <path d={`M${from} ${top}H${to}V${bottom}H${from}z`} fill={paint.wash} />
      <path
        d={`M${from} ${top}H${to}M${from} ${bottom}H${to}`}
        stroke={paint['ink-soft']}
        strokeWidth="1.25"
        strokeDasharray="2 3"
        fill="none"
      />
    </>
  );
}

export const openBand: FigureKind<OpenBandData> = {
  draw: (frame, { rows, axisLabel }) =>
    drawRowChart(frame, {
      values: rows.flatMap((row) => [row.low, row.high]),
      axisLabel,
      rows: rows.map((row) => ({
        key: row.key,
        label: row.label,
        detail: row.detail,
        value: row.text,
        marks: ({ x, y }) => <OpenBand from={x(row.low)} to={x(row.high)} y={y} />,
      })),
    }),
  legend: ({ bandLabel }) => [{ label: bandLabel, mark: <OpenBand from={1} to={27} y={6} /> }],
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};
