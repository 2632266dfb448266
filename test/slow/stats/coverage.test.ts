import { describe, expect, it } from 'vitest';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { type Coverage, KINDS, TARGETS, targetOf, YOUNG_TARGET } from '../../bench/coverageCount';
import {
  DEMO_SEED,
  measureRedrawn,
  type Redrawing,
  rowsByClass,
  youngClasses,
} from '../../bench/demoCoverage';
import { MADE_GROUPS, type MadeGroup, measureMade } from '../../bench/madeGroups';
import { measureYoung, YOUNG_LAYOUTS } from '../../bench/youngCoverage';

/** 99.9 % of a normal lies within so many standard errors. */
const SURELY = 3.29;

/** Small ones of `npm run bench -- coverage`: a share may miss what is wanted only by what chance does in 99.9 %. */
function expectWanted(coverage: Coverage, of: string, isYoung = false): void {
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

describe('coverage', { timeout: 600_000 }, () => {
  it('is kept by groups of one model made for the purpose', () => {
    const made = MADE_GROUPS.find(({ name }) => name === 'all alike') as MadeGroup;
    expectWanted(measureMade(made, 150, 5), made.name);
  });

  it.each<[string, Redrawing]>([
    ['as they are', {}],
    ['with cars and loops differing on loops', { carLoopSd: 0.01, loopSd: 0.003 }],
  ])('is kept in every class of the demo world %s', (words, how) => {
    const world = generateDemoWorld({ seed: DEMO_SEED });
    const classes = measureRedrawn(world, 40, 8, how);
    const borrowing = youngClasses(rowsByClass(world));
    expect([...borrowing]).toEqual(['mph-70']);
    expect([...classes.keys()]).toEqual(['kmh-110', 'kmh-130', 'kmh-90', 'mph-70']);
    for (const [key, found] of classes) expectWanted(found, `${key} ${words}`, borrowing.has(key));
  });

  it('is lost by setups’ means where the truth is twice as far off as stated', () => {
    const classes = measureRedrawn(generateDemoWorld({ seed: DEMO_SEED }), 100, 8, { stretch: 2 });
    const means = classes.get('kmh-110')?.means;
    expect((means?.share ?? 1) + SURELY * (means?.standardError ?? 1)).toBeLessThan(TARGETS.means[0]);
  });

  it.each(YOUNG_LAYOUTS)('is kept by the first runs of a class: $name', (layout) => {
    // `npm run bench -- coverage` takes four times as many.
    const registries = 1000;
    const { share } = measureYoung(layout, registries, 31);
    const reach = SURELY * Math.sqrt((0.05 * 0.95) / registries);
    expect(share).toBeGreaterThan(YOUNG_TARGET[0] - reach);
    expect(share).toBeLessThan(YOUNG_TARGET[1] + reach);
  });
});
