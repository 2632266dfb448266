import { expect } from 'vitest';
import { type Coverage, KINDS, targetOf } from '../../bench/coverageCount';

/** 99.9 % of a normal lies within so many standard errors. */
export const SURELY = 3.29;

/** Small ones of `npm run bench -- coverage`: a share may miss what is wanted only by what chance does in 99.9 %. */
export function expectWanted(coverage: Coverage, of: string, isYoung = false): void {
  for (const kind of KINDS) {
    const found = coverage[kind];
    if (found === null) continue;
    const [low, high] = targetOf(kind, isYoung);
    // a share of all or nothing has no spread of its own: that of the target stands in
    const least = Math.sqrt((low * (1 - low)) / found.worlds);
    const isAllOrNothing = found.share === 0 || found.share === 1;
    const reach = SURELY * Math.max(found.standardError, isAllOrNothing ? least : least / 2);
    expect(found.share, `${kind} of ${of}`).toBeGreaterThan(low - reach);
    expect(found.share, `${kind} of ${of}`).toBeLessThan(high + reach);
  }
}
