import { type ScaleLinear, scaleLinear } from 'd3-scale';
import type { Display } from '@/lib/units/display';
import { formatNumber } from '@/lib/units/format';

export type FormatTick = (value: number) => string;

export interface Tick {
  value: number;
  label: string;
}

export interface Axis {
  scale: ScaleLinear<number, number>;
  domain: readonly [number, number];
  ticks: readonly Tick[];
}

interface AxisOptions {
  /** Every number that must be seen. Ignored where a domain is given. */
  values: readonly number[];
  domain?: readonly [number, number];
  range: readonly [number, number];
  tickCount?: number;
  formatTick?: FormatTick;
  /** The point unless told. */
  mark?: Display['mark'];
  /** Shares of the span left free at both ends; 0.04 unless told. */
  pad?: number;
}

/** A linear axis with round ticks. Numbers are written as everywhere in the app. */
export function linearAxis(options: AxisOptions): Axis {
  const { values, range, tickCount = 5, pad = 0.04 } = options;
  const domain = options.domain ?? spanOf(values, pad);
  const scale = scaleLinear().domain(domain).range(range);
  // Twice as fine as the ticks: round ends without much empty room.
  if (!options.domain) scale.nice(tickCount * 2);
  const plain = scale.tickFormat(tickCount, '.12~f');
  const steps = scale.ticks(tickCount);
  // As many decimals for all as the tick that needs most.
  const decimals = Math.max(0, ...steps.map((value) => plain(value).split('.')[1]?.length ?? 0));
  const decimalMark = options.mark === 'comma' ? ',' : '.';
  const format = options.formatTick ?? ((value) => formatNumber(value, decimals, { decimalMark }));
  const ticks = steps.map((value) => ({ value, label: format(value).replace(/^-/, '−') }));
  const [low = 0, high = 1] = scale.domain();
  return { scale, domain: [low, high], ticks };
}

const tiny = 1e-9;

function spanOf(values: readonly number[], pad: number): [number, number] {
  const finite = values.filter(Number.isFinite);
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const size = Math.max(Math.abs(low), Math.abs(high));
  // Values in the units shown are never this small; finer spans would leave no number between two ticks.
  if (finite.length === 0 || size < tiny) return [0, 1];
  const room = high - low > size * tiny ? (high - low) * pad : size * 0.05;
  // Numbers of one sign never get an axis that runs past zero.
  return [
    low >= 0 ? Math.max(0, low - room) : low - room,
    high <= 0 ? Math.min(0, high + room) : high + room,
  ];
}
