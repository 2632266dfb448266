import { IntervalMark } from './IntervalMark';
import type { IntervalRow } from './intervalRow';
import { Legend, type LegendItem } from './Legend';

interface IntervalLegendProps {
  rows: readonly IntervalRow[];
  mutedLabel?: string | undefined;
  beforeLabel?: string | undefined;
}

/** Explains only the marks that the rows use. */
export function IntervalLegend(props: IntervalLegendProps) {
  return <Legend items={intervalLegend(props)} />;
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: 14 } as const;

export function intervalLegend({ rows, mutedLabel, beforeLabel }: IntervalLegendProps): LegendItem[] {
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
