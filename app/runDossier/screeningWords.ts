import type { ScreeningLevels } from '@/lib/stats/runScreening';
import { formatNumber } from '@/lib/units/format';
import { percent, plainNumber, significant } from './numbers';

/** "= 0.034", "< 0.001", "= 1". */
export function chanceWords(p: number): string {
  if (p < 0.001) return '< 0.001';
  return `= ${p > 0.9995 ? '1' : significant(p, 2)}`;
}

/** "straggler at 5 %, outlier at 1 %" */
export function levelWords({ stragglerLevel, outlierLevel }: ScreeningLevels): string {
  return `straggler at ${levelText(stragglerLevel)}, outlier at ${levelText(outlierLevel)}`;
}

export function levelText(level: number): string {
  return percent(level, Math.max(0, plainNumber(100 * level).split('.')[1]?.length ?? 0));
}

/** A statistic without a unit, to the three decimals that critical values are tabulated to. */
export function statisticText(value: number, signed = false): string {
  return formatNumber(value, 3, { signed });
}
