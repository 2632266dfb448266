import { countText } from '@/app/ui/countText';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import type { RankedSetup } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';
import { fromCanonical } from '@/lib/units/unit';
import { consumptionNumber, fittedNumber, fittedPlace, intervalText } from '../consumptionText';
import { caveatsOf } from '../estimateCaveats';

/** One row of the ranking in the reader's unit; the figure only draws. */
export function rankingRow(
  setup: RankedSetup,
  display: Display,
  rankedOf: number,
  showRaw: boolean,
): IntervalRow {
  const shown = (consumptionWhPerKm: number) => fromCanonical(consumptionWhPerKm, display.consumption);
  const { lowWhPerKm: low, highWhPerKm: high } = setup;
  // What one run of one car may vary by is drawn apart and unlike an interval.
  const isDrawn = low !== null && high !== null && setup.intervalKind !== 'expectedVariation';
  const ends = !isDrawn ? undefined : [shown(low), shown(high)].sort((a, b) => a - b);
  const caveats = caveatsOf(setup.label);
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
    ...(setup.rankLower === null || setup.rankUpper === null
      ? {}
      : { rank: rankText(setup.rankLower, setup.rankUpper, rankedOf) }),
    ...(caveats.length > 0 ? { caveat: caveats.join('; ') } : {}),
    muted: !setup.isRanked,
    ...(showRaw
      ? {
          before: {
            value: shown(setup.rawMeanWhPerKm),
            text: `as measured ${consumptionNumber(setup.rawMeanWhPerKm, display, fittedPlace(setup, display))}`,
          },
        }
      : {}),
  };
}

/** A rank is a set: the positions that the intervals leave open. */
export function rankText(lower: number, upper: number, of: number): string {
  return lower === upper ? `rank ${lower} of ${of}` : `rank ${lower}–${upper} of ${of}`;
}

/** What a setup still lacks, in words, and what its layout leaves unseen. */
export function missingText(setup: Pick<RankedSetup, 'missing' | 'label'>): string {
  const lacks = setup.missing.map(({ what, have, need }) => `${have} of ${need} ${what}`).join(', ');
  return [lacks, ...caveatsOf(setup.label)].filter((part) => part !== '').join('; ') || 'nothing missing';
}
