import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { IntervalMark } from '../IntervalMark';
import { intervalLegend } from '../intervalLegend';
import type { IntervalRow } from '../intervalRow';
import { drawRowChart } from '../rowChart';

/** Estimates with intervals on one axis. On a page its rows are text with a strip each (IntervalPlot). */
export interface IntervalData {
  kind: 'interval';
  rows: readonly IntervalRow[];
  /** Names the list. */
  label: string;
  unit: string;
  axisLabel: string;
  domain?: readonly [number, number];
  reference?: { value: number; label: string };
  formatTick?: FormatTick;
  /** Heads of the first and the last column. */
  rowHead?: string;
  valueHead?: string;
  /** What a muted row is, for the legend: "not ranked yet". */
  mutedLabel?: string;
  /** What the second mark is, for the legend: "before normalising". */
  beforeLabel?: string;
  /** Rows have an order that means something. */
  ordered?: boolean;
}

export const interval: FigureKind<IntervalData> = {
  draw: (frame, data) =>
    drawRowChart(frame, {
      values: data.rows.flatMap((row) => [
        row.estimate,
        row.low ?? row.estimate,
        row.high ?? row.estimate,
        ...(row.before ? [row.before.value] : []),
      ]),
      domain: data.domain,
      axisLabel: data.axisLabel,
      formatTick: data.formatTick,
      reference: data.reference,
      rows: data.rows.map((row) => ({
        key: row.key,
        label: row.label,
        detail: row.detail,
        value: row.text,
        note: row.intervalText,
        muted: row.muted,
        marks: (space) => (
          <IntervalMark
            {...space}
            estimate={row.estimate}
            low={row.low}
            high={row.high}
            muted={row.muted}
            before={row.before?.value}
          />
        ),
      })),
    }),
  legend: intervalLegend,
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({ ...data, rows: data.rows.slice(0, count) }),
  },
};
