import { describe, expect, it } from 'vitest';
import { type FactorRun, factorEffects } from '@/lib/stats/factorEffects';
import { readTable } from './reference';

describe('the effect of one factor', () => {
  it('is the paired t test where each session holds one run of each level', () => {
    // R: t.test(extra ~ group, sleep, paired = TRUE): mean difference -1.58, 95 % (-2.459886, -0.7001142).
    const runs: FactorRun[] = readTable('sleep').map((row) => ({
      car: row.ID as string,
      session: '1',
      z: Number(row.extra),
      variance: 1e-9,
      runs: 1,
      levels: { drug: row.group as string },
    }));
    // A run variance far below the spread of the differences: all of it is between sessions.
    const [effect] = factorEffects(runs, 'drug', '2');
    expect(effect?.sessions).toBe(10);
    expect(effect?.cars).toBe(10);
    expect(effect?.combined?.estimate).toBeCloseTo(-1.58, 8);
    expect(effect?.combined?.interval?.[0]).toBeCloseTo(-2.45988576327698, 6);
    expect(effect?.combined?.interval?.[1]).toBeCloseTo(-0.700114236723018, 6);
  });

  it('uses only the sessions where nothing else moved', () => {
    const run = (session: string, height: string, tyres: string, z: number): FactorRun => ({
      car: 'k',
      session,
      z,
      variance: 0.01,
      runs: 1,
      levels: { height, tyres },
    });
    const [effect, ...others] = factorEffects(
      [
        run('1', 'low', 'summer', 4.9),
        run('1', 'normal', 'summer', 5),
        // Two factors at once say nothing about either.
        run('2', 'low', 'winter', 4),
        run('2', 'normal', 'summer', 5),
        // One level only.
        run('3', 'low', 'summer', 4),
        // The same day holds a clean pair on winter tyres.
        run('4', 'low', 'winter', 5.1),
        run('4', 'low', 'winter', 5.3),
        run('4', 'normal', 'winter', 5.3),
      ],
      'height',
      'normal',
    );
    expect(others).toEqual([]);
    expect(effect).toMatchObject({ baseline: 'normal', level: 'low', sessions: 2, cars: 1 });
    expect(effect?.differences.map((d) => d.session)).toEqual(['1', '4']);
    expect(effect?.differences[0]?.difference).toBeCloseTo(-0.1, 12);
    expect(effect?.differences[0]?.variance).toBeCloseTo(0.02, 12);
    expect(effect?.differences[1]).toMatchObject({ context: 'tyres: winter', runsBaseline: 1, runsLevel: 2 });
    expect(effect?.differences[1]?.variance).toBeCloseTo(0.015, 12);
  });

  // JCGM 100:2008, 5.2: one draw of an input moves both sides, so (1 % − 3 %)² of it is left beside 2·0.01
  it('keeps of an input of the day what it does unequally to the two sides', () => {
    const side = (height: string, parts: number[]): FactorRun[] =>
      parts.map((part) => ({
        car: 'k',
        session: '1',
        z: 5,
        variance: 0.01,
        shared: { climate: part, air: 0.02 },
        runs: 1,
        levels: { height },
      }));
    const [one] = factorEffects([...side('low', [0.01]), ...side('normal', [0.03])], 'height', 'normal');
    expect(one?.differences[0]?.variance).toBeCloseTo(0.02 + 0.02 ** 2, 14);
    // 1 % and 5 % have the mean of 3 %
    const [two] = factorEffects(
      [...side('low', [0.01, 0.05]), ...side('normal', [0.03])],
      'height',
      'normal',
    );
    expect(two?.differences[0]?.variance).toBeCloseTo(0.015, 14);
  });

  it('is the same from the runs of a cell and from their weighted mean', () => {
    const own = { car: 'k', session: '1', levels: { height: 'low' } };
    const base = { car: 'k', session: '1', levels: { height: 'normal' }, z: 5, variance: 0.01, runs: 1 };
    const single = [
      { ...own, z: 4.9, variance: 0.01, runs: 1 },
      { ...own, z: 4.7, variance: 0.03, runs: 1 },
    ];
    // Weights of 100 and 100/3: (100·4.9 + 100/3·4.7)/(400/3) = 4.85, variance 3/400.
    const merged = { ...own, z: 4.85, variance: 3 / 400, runs: 2 };
    const [apart] = factorEffects([base, ...single], 'height', 'normal');
    const [together] = factorEffects([base, merged], 'height', 'normal');
    expect(together?.differences[0]?.difference).toBeCloseTo(-0.15, 12);
    expect(together?.differences[0]?.variance).toBeCloseTo(0.0175, 12);
    expect(apart?.differences[0]?.difference).toBeCloseTo(-0.15, 12);
    expect(apart?.differences[0]?.variance).toBeCloseTo(0.0175, 12);
    expect([apart, together].map((effect) => effect?.differences[0]?.runsLevel)).toEqual([2, 2]);
  });
});
