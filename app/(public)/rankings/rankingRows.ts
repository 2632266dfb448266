import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import type { RankedSetup } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';
import { caveatsOf } from '../estimateCaveats';
import { fittedRow, rawMark } from '../fittedRow';

/** One row of the ranking in the reader's unit; the figure only draws. */
export function rankingRow(
  setup: RankedSetup,
  display: Display,
  rankedOf: number,
  showRaw: boolean,
): IntervalRow {
  const caveats = caveatsOf(setup.label);
  return {
    ...fittedRow(setup, display),
    ...(setup.rankLower === null || setup.rankUpper === null
      ? {}
      : { rank: rankText(setup.rankLower, setup.rankUpper, rankedOf) }),
    ...(caveats.length > 0 ? { caveat: caveats.join('; ') } : {}),
    muted: !setup.isRanked,
    ...(showRaw ? { before: rawMark(setup, display) } : {}),
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
