import { IntervalMark } from './IntervalMark';
import type { IntervalRow } from './intervalRow';
import type { LegendItem } from './Legend';

interface IntervalMarks {
  rows: readonly IntervalRow[];
  mutedLabel?: string;
  beforeLabel?: string;
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: 14 } as const;

/** Explains only the marks that the rows use. */
export function intervalLegend({ rows, mutedLabel, beforeLabel }: IntervalMarks): LegendItem[] {
  const items = [
    {
      label: 'estimate and 95 % interval',
      show: rows.some((row) => !row.muted),
      mark: <IntervalMark {...own} low={1} high={27} />,
    },
    {
      label: mutedLabel ?? 'not ranked',
      show: rows.some((row) => row.muted),
      mark: <IntervalMark {...own} low={1} high={27} muted />,
    },
    {
      label: beforeLabel ?? 'before normalising',
      show: rows.some((row) => row.before),
      mark: <IntervalMark {...own} estimate={Number.NaN} before={14} />,
    },
  ];
  return items.filter((item) => item.show).map(({ label, mark }) => ({ label, mark }));
}
