import { describe, expect, it } from 'vitest';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import {
  DEMO_SEED,
  measureRedrawn,
  type Redrawing,
  rowsByClass,
  youngClasses,
} from '../../bench/demoCoverage';
import { MADE_GROUPS, type MadeGroup, measureMade } from '../../bench/madeGroups';
import { expectWanted } from './expectWanted';

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
});
