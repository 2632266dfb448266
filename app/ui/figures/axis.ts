import { type ScaleLinear, scaleLinear } from 'd3-scale';

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
  /** Shares of the span left free at both ends; 0.04 unless told. */
  pad?: number;
}

/** A linear axis with round ticks. The minus sign is the typographic one, as everywhere in the app. */
export function linearAxis(options: AxisOptions): Axis {
  const { values, range, tickCount = 5, pad = 0.04 } = options;
  const domain = options.domain ?? spanOf(values, pad);
  const scale = scaleLinear().domain(domain).range(range);
  // Twice as fine as the ticks: round ends without much empty room.
  if (!options.domain) scale.nice(tickCount * 2);
  const format = options.formatTick ?? scale.tickFormat(tickCount);
  const ticks = scale.ticks(tickCount).map((value) => ({ value, label: format(value).replace(/^-/, '−') }));
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
