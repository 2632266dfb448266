import type { ScreeningLevels } from '@/lib/stats/runScreening';
import type { Display } from '@/lib/units/display';
import { showChance, showNumber, showPlain } from '@/lib/units/show';
import { percent } from './numbers';

/** "= 0.034", "< 0.001", "> 0.999": a p-value as a sentence reads it. */
export function chanceWords(p: number, display: Display): string {
  const text = showChance(p, display);
  return /^[<>]/.test(text) ? text : `= ${text}`;
}

/** "straggler at 5 %, outlier at 1 %" */
export function levelWords({ stragglerLevel, outlierLevel }: ScreeningLevels, display: Display): string {
  return `straggler at ${levelText(stragglerLevel, display)}, outlier at ${levelText(outlierLevel, display)}`;
}

/** A level as it is stated, without digits that it does not have. */
export function levelText(level: number, display: Display): string {
  const stated = showPlain(100 * level, display).split(/[.,]/)[1]?.length ?? 0;
  return percent(level, stated, display);
}

/** A statistic without a unit, to the three decimals that critical values are tabulated to. */
export function statisticText(value: number, display: Display, signed = false): string {
  return showNumber(value, 3, display, { signed });
}
