import type { Display } from '@/lib/units/display';
import { type ShownEstimate, showEstimate, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';

export interface FittedConsumption {
  estimateWhPerKm: number;
  lowWhPerKm: number | null;
  highWhPerKm: number | null;
  intervalKind: string;
}

/** Value and ends to one place; undefined where the fit gives no interval. */
function shownFit(fitted: FittedConsumption, display: Display): ShownEstimate | undefined {
  const { estimateWhPerKm: value, lowWhPerKm: low, highWhPerKm: high } = fitted;
  return low === null || high === null
    ? undefined
    : showEstimate({ value, low, high }, 'consumption', display);
}

/** The place of the estimate, which numbers beside it share; undefined leaves them their three digits. */
export function fittedPlace(fitted: FittedConsumption, display: Display): number | undefined {
  return shownFit(fitted, display)?.decimals;
}

/** The estimate without its unit. */
export function fittedNumber(fitted: FittedConsumption, display: Display): string {
  return shownFit(fitted, display)?.value ?? consumptionNumber(fitted.estimateWhPerKm, display);
}

export function fittedText(fitted: FittedConsumption, display: Display): string {
  return `${fittedNumber(fitted, display)} ${unitSymbol(display.consumption)}`;
}

/** The ends without the unit, or why there are none. */
export function intervalText(fitted: FittedConsumption, display: Display): string {
  const shown = shownFit(fitted, display);
  return shown === undefined ? 'no interval: too few data' : endsMeaning(shown.interval, fitted.intervalKind);
}

/** Ends that are no interval of the setup's mean say what they are; those of single runs stand elsewhere (OneRun). */
function endsMeaning(ends: string, intervalKind: string): string {
  if (intervalKind === 'expectedVariation') return 'none of its own';
  return intervalKind === 'typicalRepeatability' ? `${ends} (as runs typically repeat)` : ends;
}

/** A consumption in the reader's unit, without its symbol: to the place of what it stands beside, or three digits. */
export function consumptionNumber(whPerKm: number, display: Display, decimals?: number): string {
  return showQuantity(whPerKm, 'consumption', display, {
    bare: true,
    ...(decimals === undefined ? {} : { decimals }),
  });
}
