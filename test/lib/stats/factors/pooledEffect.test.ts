import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AnsweringGroup, type PooledEffect, poolQuestions } from '@/lib/stats/factors/pooledEffect';
import { readAcrossModels, readCruiseSpeeds } from '@/lib/stats/factors/stored';
import { moderatedMean } from '@/lib/stats/moderatedMean';

function group(name: string, y: number, se: number, testers: Record<string, number> = { [name]: 1 }) {
  return { name, y, variance: se * se, df: 12, testers } satisfies AnsweringGroup;
}

const one = (groups: readonly AnsweringGroup[], key = 'q') =>
  poolQuestions([{ key, groups }]).get(key) as PooledEffect;

const groups = fc
  .array(
    fc.record({
      y: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
      se: fc.double({ min: 0.001, max: 0.03, noNaN: true }),
    }),
    {
      minLength: 3,
      maxLength: 8,
    },
  )
  .map((all) => all.map(({ y, se }, i) => group(`${i}`, y, se)));

describe('a common number over models', () => {
  it('is made from three on', () => {
    const two = [group('a', -0.02, 0.005), group('b', -0.03, 0.005)];
    expect(poolQuestions([{ key: 'q', groups: two }]).size).toBe(0);
    expect(one([...two, group('c', -0.025, 0.005)]).groups).toBe(3);
  });

  it('is the mean of method C6 with its own interval, alone', () => {
    fc.assert(
      fc.property(groups, (all) => {
        const mean = moderatedMean(all);
        const found = one(all);
        expect([found.estimate, found.se, found.df]).toEqual([mean?.estimate, mean?.se, mean?.df]);
        expect(found.alone[0]).toBeCloseTo(mean?.interval[0] ?? Number.NaN, 12);
        // asked alone it is its whole family
        expect(found.ofAll).toEqual(found.alone);
      }),
      { numRuns: 12 },
    );
  });

  it('widens with the number of questions asked at once, by Bonferroni, and gives no direction that is not there', () => {
    fc.assert(
      fc.property(groups, fc.integer({ min: 2, max: 12 }), (all, asked) => {
        const questions = Array.from({ length: asked }, (_, i) => ({ key: `${i}`, groups: all }));
        const found = poolQuestions(questions).get('0') as PooledEffect;
        const [low, high] = found.ofAll;
        expect(low).toBeLessThan(found.alone[0]);
        expect(high).toBeGreaterThan(found.alone[1]);
        const leaves = ([from, to]: [number, number]) => from > 0 || to < 0;
        if (found.word === 'settled') expect(leaves(found.ofAll)).toBe(true);
        if (found.word === 'leaning') expect(leaves(found.alone)).toBe(true);
        if (found.word === 'undecided') expect(leaves(found.alone)).toBe(false);
      }),
      { numRuns: 12 },
    );
  });

  it('is not settled where one tester has more than half of it', () => {
    const plain = [group('a', -0.05, 0.004), group('b', -0.052, 0.004), group('c', -0.049, 0.004)];
    expect(one(plain)).toMatchObject({ word: 'settled', restsOnOne: false });
    const puppet = { ann: 1 };
    const resting = [
      group('a', -0.05, 0.004, puppet),
      group('b', -0.052, 0.004, puppet),
      group('c', -0.049, 0.004, { ben: 1 }),
    ];
    expect(one(resting)).toMatchObject({ word: 'leaning', restsOnOne: true });
    // half and half is not more than half
    const shared = plain.map((each) => ({ ...each, testers: { ann: 0.5, ben: 0.5 } }));
    expect(one(shared)).toMatchObject({ word: 'settled', restsOnOne: false });
  });

  it('turns round with the sign of the answers, and does not hang on their order', () => {
    fc.assert(
      fc.property(groups, (all) => {
        const there = one(all);
        const turned = one(all.map((each) => ({ ...each, y: -each.y })));
        expect(turned.estimate).toBeCloseTo(-there.estimate, 9);
        expect(turned.word).toBe(there.word);
        // the variance between models is sought until its step is small: another order of sums stops a little elsewhere
        expect(one([...all].reverse()).estimate).toBeCloseTo(there.estimate, 8);
      }),
      { numRuns: 12 },
    );
  });
});

describe('what was stored of factors', () => {
  const ids = [1, 2, 3].map((i) => `018f0000-0000-7000-8000-00000000000${i}`);
  const pooled = one([group('a', -0.05, 0.004), group('b', -0.052, 0.004), group('c', -0.049, 0.004)]);

  it('reads as it was written', () => {
    const across = {
      version: 1 as const,
      effects: [
        {
          factor: 'rideHeight',
          baseline: { id: 'n', words: 'Normal' },
          level: { id: 'l', words: 'Low' },
          models: [{ modelId: ids[0], baselineId: ids[1], setupId: ids[2] }],
          of: 3,
          pooled,
        },
      ],
    };
    expect(readAcrossModels(JSON.parse(JSON.stringify(across)))).toEqual(across);
    const speeds = {
      version: 1 as const,
      steps: [
        {
          slowKey: 'kmh-90',
          fastKey: 'kmh-110',
          models: [{ modelId: ids[0], setupId: ids[1], cars: 3, effect: pooled }],
          of: 1,
          pooled: null,
        },
      ],
    };
    expect(readCruiseSpeeds(JSON.parse(JSON.stringify(speeds)))).toEqual(speeds);
  });

  it('is nothing, and no throw, where it cannot be read', () => {
    for (const stored of [
      null,
      undefined,
      7,
      'x',
      [],
      {},
      { version: 2, effects: [] },
      { version: 1, effects: [{}] },
      {
        version: 1,
        effects: [
          {
            factor: 'rideHeight',
            baseline: { id: 'n', words: 'Normal' },
            level: { id: 'l', words: 'Low' },
            models: [{ modelId: 'no id', baselineId: 'of', setupId: 'a row' }],
            of: 1,
            pooled: null,
          },
        ],
      },
      {
        version: 1,
        steps: [
          {
            slowKey: 'kmh-90',
            fastKey: 'kmh-110',
            models: [{ modelId: 'no id', setupId: 'of a row', cars: 1, effect: null }],
            of: 1,
            pooled: null,
          },
        ],
      },
    ]) {
      expect(readAcrossModels(stored)).toBeUndefined();
      expect(readCruiseSpeeds(stored)).toBeUndefined();
    }
  });
});
