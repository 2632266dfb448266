import { setupAtStart } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { showEstimate, showQuantity } from '@/lib/units/show';

export interface ConsumptionNumbers {
  estimateWhPerKm: number;
  lowWhPerKm: number | null;
  highWhPerKm: number | null;
  /** 'model' where the interval is one of the setup's mean. */
  intervalKind: string;
  runs: number;
  cars: number;
}

/**
 * "The car as delivered uses 18.4 kWh/100 km at a steady 110 km/h (17.9 to 18.9), from 42 runs of 6 cars." Ends that are no interval
 * of the setup's mean are not said here.
 */
export function consumptionSentence(
  numbers: ConsumptionNumbers,
  at: { setup: string; classLabel: string },
  display: Display,
): string {
  const { estimateWhPerKm: value, lowWhPerKm: low, highWhPerKm: high, intervalKind, runs, cars } = numbers;
  const count = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`;
  const from = `from ${count(runs, 'run')} of ${count(cars, 'car')}`;
  const where = `at a steady ${at.classLabel}`;
  if (intervalKind !== 'model' || low === null || high === null) {
    const shown = showQuantity(value, 'consumption', display);
    return `${setupAtStart(at.setup)} did ${shown} ${where}, ${from}: how far other cars and days would lie from it cannot be told yet.`;
  }
  const shown = showEstimate({ value, low, high }, 'consumption', display);
  const { verb } = senseOf(display.consumption);
  return `${setupAtStart(at.setup)} ${verb} ${shown.value} ${shown.symbol} ${where} (${shown.interval}), ${from}.`;
}
