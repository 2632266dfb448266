import { type Counts, countText } from '@/app/ui/countText';
import type { Display } from '@/lib/units/display';
import { fromCanonical } from '@/lib/units/unit';
import {
  consumptionNumber,
  type FittedConsumption,
  fittedNumber,
  fittedPlace,
  intervalText,
} from './consumptionText';

type FittedSetup = FittedConsumption &
  Counts & { setupId: string; title: string; slug: string; model: string; rawMeanWhPerKm: number };

/** A setup's estimate as a row of a figure, in the reader's unit; the figure only draws. */
export function fittedRow(setup: FittedSetup, display: Display) {
  const shown = (whPerKm: number) => fromCanonical(whPerKm, display.consumption);
  const { lowWhPerKm: low, highWhPerKm: high } = setup;
  // Where a single run could land is drawn apart and unlike an interval.
  const isDrawn = low !== null && high !== null && setup.intervalKind !== 'expectedVariation';
  const ends = !isDrawn ? undefined : [shown(low), shown(high)].sort((a, b) => a - b);
  return {
    key: setup.setupId,
    label: setup.title,
    href: `/setups/${setup.slug}`,
    detail: setup.model,
    estimate: shown(setup.estimateWhPerKm),
    ...(ends ? { low: ends[0], high: ends[1] } : {}),
    text: fittedNumber(setup, display),
    intervalText: intervalText(setup, display),
    counts: countText(setup),
  };
}

/** The number before normalising, as the second mark of a row. */
export function rawMark(setup: FittedSetup, display: Display) {
  const { rawMeanWhPerKm: raw } = setup;
  return {
    value: fromCanonical(raw, display.consumption),
    text: `as measured ${consumptionNumber(raw, display, fittedPlace(setup, display))}`,
  };
}
