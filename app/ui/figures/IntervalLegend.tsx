import type { IntervalRow } from './intervalRow';
import { Legend } from './Legend';
import { paint } from './paint';

interface IntervalLegendProps {
  rows: readonly IntervalRow[];
  mutedLabel?: string;
  beforeLabel?: string;
}

/** Explains only the marks that the rows use. */
export function IntervalLegend({ rows, mutedLabel, beforeLabel }: IntervalLegendProps) {
  const items = [
    {
      label: 'estimate and 95 % interval',
      show: rows.some((row) => !row.muted),
      mark: (
        <>
          <path d="M1 6H27" stroke={paint.accent} strokeWidth="3" />
          <circle cx="14" cy="6" r="5" fill={paint.accent} stroke={paint.paper} strokeWidth="1.5" />
        </>
      ),
    },
    {
      label: mutedLabel ?? 'not ranked',
      show: rows.some((row) => row.muted),
      mark: (
        <>
          <path d="M1 6H27" stroke={paint['ink-faint']} strokeWidth="2" strokeDasharray="4 3" />
          <circle cx="14" cy="6" r="4.5" fill={paint.paper} stroke={paint['ink-faint']} strokeWidth="1.5" />
        </>
      ),
    },
    {
      label: beforeLabel ?? 'before normalising',
      show: rows.some((row) => row.before),
      mark: <circle cx="14" cy="6" r="3.5" fill={paint.paper} stroke={paint.ink} strokeWidth="1.25" />,
    },
  ];
  return <Legend items={items.filter((item) => item.show)} />;
}
