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

function spanOf(values: readonly number[], pad: number): [number, number] {
  const finite = values.filter(Number.isFinite);
  if (finite.every((value) => value === 0)) return [0, 1];
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const room = high > low ? (high - low) * pad : Math.abs(high) * 0.05 || 1;
  // Numbers of one sign never get an axis that runs past zero.
  return [
    low >= 0 ? Math.max(0, low - room) : low - room,
    high <= 0 ? Math.min(0, high + room) : high + room,
  ];
}
