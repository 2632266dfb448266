import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart } from '../rowChart';

export interface BudgetBar {
  key: string;
  label: string;
  /** Share of the variance, 0 … 1. */
  share: number;
  /** "2.1 Wh/km · 42 %". */
  text: string;
  /** Run, session, car or model: what the input is shared by. */
  scope?: string;
  /** Its row in the table; null for what stands for several. */
  row?: number | null;
}

/** Where the uncertainty comes from: each input's share of the variance, largest first as given. */
export interface BudgetData {
  kind: 'budget';
  bars: readonly BudgetBar[];
  axisLabel: string;
}

export const budget: FigureKind<BudgetData> = {
  draw: (frame, { bars, axisLabel }) =>
    drawRowChart(frame, {
      values: [],
      domain: [0, Math.max(0.1, ...bars.map((bar) => bar.share))],
      axisLabel,
      formatTick: (value) => String(Math.round(value * 100)),
      rows: bars.map((bar) => ({
        key: bar.key,
        label: bar.label,
        value: bar.text,
        note: bar.scope,
        row: bar.row,
        marks: ({ x, y }) => (
          <rect x={x(0)} y={y - 5} width={Math.max(1, x(bar.share) - x(0))} height="10" fill={paint.accent} />
        ),
      })),
    }),
  legend: () => [],
  rows: {
    count: ({ bars }) => bars.length,
    first: (data, count) => ({ ...data, bars: data.bars.slice(0, count) }),
  },
};
