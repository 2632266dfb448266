import { describe, expect, it } from 'vitest';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { type Held, judgeByPhysics, judgeOwnConditions, judgeTrips } from '../../bench/readerCoverage';
import { reduceWorld } from '../../lib/demo/reduceWorld';

/** 99.9 % of a normal lies within so many standard errors. */
const SURELY = 3.29;

/** 95 % but for what chance does in 99.9 %; an interval of six tenths its width would hold in 76 % and be noticed. */
function expectHeld(held: readonly Held[], most: number): void {
  const share = (of: keyof Held) => held.filter((one) => one[of]).length / held.length;
  const reach = SURELY * Math.sqrt((0.95 * 0.05) / held.length);
  expect(share('whole')).toBeGreaterThan(0.95 - reach);
  expect(share('narrow')).toBeLessThan(most);
}

const worlds = [20_261_031, 501, 502].map((seed) => {
  const world = generateDemoWorld({ seed });
  return { seed, world, reduced: reduceWorld(world, (run) => run.cruiseClassKey === 'kmh-110') };
});
const [first] = worlds;

describe('estimates for a reader, against the truth of the demo world', { timeout: 240_000 }, () => {
  it('hold a further car’s consumption and range at the stated rate, everything unknown drawn anew', () => {
    if (first === undefined) throw new Error('no world');
    const trips = judgeTrips(first.world, first.reduced, 100, 7);
    expectHeld(
      trips.map(({ consumption }) => consumption),
      0.95 - SURELY * Math.sqrt((0.95 * 0.05) / 100),
    );
    expectHeld(
      trips.map(({ range }) => range),
      0.95 - SURELY * Math.sqrt((0.95 * 0.05) / 100),
    );
  });

  it('meet at a run’s own conditions what it measured, from the fit without its car', () => {
    const held = worlds.flatMap(({ reduced }) => judgeOwnConditions(reduced));
    expect(held.length).toBeGreaterThan(25);
    expectHeld(held, 1);
  });

  it('hold what the world’s own physics draws under other conditions', () => {
    const held = worlds.flatMap(({ world, reduced, seed }) => judgeByPhysics(world, reduced, seed));
    expect(held.length).toBeGreaterThan(9);
    expectHeld(held, 1.01);
  });
});
