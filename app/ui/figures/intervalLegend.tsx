import { IntervalMark } from './IntervalMark';
import type { IntervalRow } from './intervalRow';
import type { LegendItem } from './Legend';
import { paint } from './paint';

interface IntervalMarks {
  rows: readonly IntervalRow[];
  bands?: readonly unknown[];
  bandLabel?: string;
  markLabel?: string;
  outerLabel?: string;
  strokesLabel?: string;
  mutedLabel?: string;
  beforeLabel?: string;
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: 14 } as const;

/** Explains only the marks that the rows use. */
export function intervalLegend(marks: IntervalMarks): LegendItem[] {
  const { rows, bands = [], bandLabel, markLabel, outerLabel, strokesLabel, mutedLabel, beforeLabel } = marks;
  const hasIntervals = rows.some((row) => row.low !== undefined);
  const items = [
    {
      label: markLabel ?? 'estimate and 95 % interval',
      show: rows.some((row) => !row.muted),
      mark: hasIntervals ? <IntervalMark {...own} low={1} high={27} /> : <IntervalMark {...own} />,
    },
    {
      label: outerLabel ?? 'wider interval',
      show: rows.some((row) => row.outerLow !== undefined),
      mark: <IntervalMark {...own} estimate={Number.NaN} outerLow={1} outerHigh={27} />,
    },
    {
      label: strokesLabel ?? 'strokes: a third interval',
      show: rows.some((row) => row.strokes !== undefined),
      mark: <IntervalMark {...own} estimate={Number.NaN} outerLow={1} outerHigh={27} strokes={[5, 23]} />,
    },
    {
      label: bandLabel ?? 'joined rows',
      show: bands.length > 0,
      mark: <path d="M14 -2V14" stroke={paint.ink} strokeWidth="3" strokeLinecap="round" />,
    },
    {
      label: mutedLabel ?? 'not ranked',
      show: rows.some((row) => row.muted),
      mark: <IntervalMark {...own} low={1} high={27} muted />,
    },
    {
      label: beforeLabel ?? 'as measured',
      show: rows.some((row) => row.before),
      mark: <IntervalMark {...own} estimate={Number.NaN} before={14} />,
    },
  ];
  return items.filter((item) => item.show).map(({ label, mark }) => ({ label, mark }));
}
