import { countText } from '@/app/ui/countText';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import type { RankedSetup } from '@/lib/registry/rankings/rankings';
import { formatInterval, formatNumber } from '@/lib/units/format';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { caveatsOf } from '../estimateCaveats';

/** One row of the ranking in the reader's unit; the figure only draws. */
export function rankingRow(
  setup: RankedSetup,
  unit: UnitCode,
  rankedOf: number,
  showRaw: boolean,
): IntervalRow {
  const shown = (consumptionWhPerKm: number) => fromCanonical(consumptionWhPerKm, unit);
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
    text: formatNumber(shown(setup.estimateWhPerKm), decimalsOf(unit)),
    intervalText: intervalText(setup, unit),
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
            text: `as measured ${formatNumber(shown(setup.rawMeanWhPerKm), decimalsOf(unit))}`,
          },
        }
      : {}),
  };
}

/** A rank is a set: the positions that the intervals leave open. */
export function rankText(lower: number, upper: number, of: number): string {
  return lower === upper ? `rank ${lower} of ${of}` : `rank ${lower}–${upper} of ${of}`;
}

function intervalText(setup: RankedSetup, unit: UnitCode): string {
  if (setup.lowWhPerKm === null || setup.highWhPerKm === null) return 'no interval: too few data';
  const text = formatInterval(setup.lowWhPerKm, setup.highWhPerKm, unit, {
    decimals: decimalsOf(unit),
    bare: true,
  });
  return endsMeaning(text, setup.intervalKind);
}

/** Ends that are no interval of the setup's mean say what they are; those of single runs stand elsewhere (OneRun). */
export function endsMeaning(ends: string, intervalKind: string): string {
  if (intervalKind === 'expectedVariation') return 'none of its own';
  return intervalKind === 'typicalRepeatability' ? `${ends} (typical repeatability)` : ends;
}

/** To about a half per cent of a usual consumption, in every unit. */
export function decimalsOf(unit: UnitCode): number {
  if (unit === 'Wh/km' || unit === 'Wh/mi') return 0;
  return unit === 'km/kWh' || unit === 'mi/kWh' ? 2 : 1;
}

/** What a setup still lacks, in words, and what its layout leaves unseen. */
export function missingText(setup: Pick<RankedSetup, 'missing' | 'label'>): string {
  const lacks = setup.missing.map(({ what, have, need }) => `${have} of ${need} ${what}`).join(', ');
  return [lacks, ...caveatsOf(setup.label)].filter((part) => part !== '').join('; ') || 'nothing missing';
}
