import { type Band, lanesOf } from '@/lib/stats/bands';
import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { IntervalMark } from '../IntervalMark';
import { intervalLegend } from '../intervalLegend';
import { bracketed, type IntervalRow } from '../intervalRow';
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
  /** What the second mark is, for the legend: "as measured". */
  beforeLabel?: string;
  /** Rows have an order that means something. */
  ordered?: boolean;
  /** Stretches of rows joined by a bar beside them, and what that says. */
  bands?: readonly Band[];
  bandLabel?: string;
  /** What the dot with its thick bar is, and the thin bar. */
  markLabel?: string;
  outerLabel?: string;
  strokesLabel?: string;
}

export const interval: FigureKind<IntervalData> = {
  draw: (frame, data) =>
    drawRowChart(frame, {
      values: data.rows.flatMap((row) => [
        row.estimate,
        row.low ?? row.estimate,
        row.high ?? row.estimate,
        row.outerLow ?? row.estimate,
        row.outerHigh ?? row.estimate,
        ...(row.strokes ?? []),
        ...(row.before ? [row.before.value] : []),
      ]),
      domain: data.domain,
      axisLabel: data.axisLabel,
      formatTick: data.formatTick,
      reference: data.reference,
      bands: withLanes(data.bands),
      rows: data.rows.map((row) => ({
        key: row.key,
        label: row.label,
        detail: row.detail,
        value: row.text,
        note: [bracketed(row.intervalText), row.against?.text].filter((words) => words !== undefined),
        muted: row.muted,
        marks: (space) => (
          <IntervalMark
            {...space}
            estimate={row.estimate}
            low={row.low}
            high={row.high}
            outerLow={row.outerLow}
            outerHigh={row.outerHigh}
            strokes={row.strokes}
            muted={row.muted}
            before={row.before?.value}
          />
        ),
      })),
    }),
  legend: intervalLegend,
  rows: {
    count: ({ rows }) => rows.length,
    first: (data, count) => ({
      ...data,
      rows: data.rows.slice(0, count),
      bands: data.bands?.flatMap(({ from, to }) =>
        from + 1 < count ? [{ from, to: Math.min(to, count - 1) }] : [],
      ),
    }),
  },
};

/** Each band with the upright line that it is drawn on. */
export function withLanes(bands: readonly Band[] = []): (Band & { lane: number })[] {
  const lanes = lanesOf(bands);
  return bands.map((band, index) => ({ ...band, lane: lanes[index] ?? 0 }));
}
