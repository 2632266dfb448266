import { describe, expect, it } from 'vitest';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { assumedCurve } from '@/lib/physics/estimate/taper';
import { plannedPrecision } from '@/lib/stats/plannedPair';
import { powerOfLayout } from '@/lib/stats/power';
import {
  planCautions,
  type Reckoned,
  type ReckoningAsked,
  type ReckoningBasis,
  reckon,
} from '@/lib/study/reckoning';

const basis: ReckoningBasis = {
  runVariance: 0.012 ** 2,
  isAssumed: false,
  loopLengthM: 50_000,
  speedMps: 25,
  consumptionWhPerKm: 200,
  battery: { basis: 'measured', capacityWh: 50_000, uWh: 500 },
  curve: assumedCurve(50_000, 100_000),
};
const asked: ReckoningAsked = {
  baselineId: 'a',
  otherIds: ['b'],
  contrastIds: ['b'],
  runsADay: 2,
  days: 5,
  seed: 3,
  wantedPercent: 2,
  power: 0.8,
  betweenRunsS: 900,
};
const v = { car: 0, carLoop: 0, session: 1, residual: basis.runVariance };

describe('what a plan will be able to say', () => {
  it('has the power of the paired t test where a day has one run of each', () => {
    // powerOfLayout stands against R's power.t.test in test/lib/stats/power.test.ts.
    for (const days of [2, 3, 5, 9]) {
      const layout = { pairing: 'same session', cars: 1, sessions: days, runs: 1 } as const;
      const { power } = reckon({ ...asked, days }, basis);
      expect(power).toBeCloseTo(powerOfLayout(layout, Math.log(1.02), v, 0), 12);
    }
  });

  it.each([
    ['A B B A', 1, 4],
    ['there and back', 2, 6],
    ['shared reference', 3, 3],
    ['Williams square', 3, 4],
  ])('has the variance and the degrees of freedom of simulated runs: %s', (kind, others, runsADay) => {
    // Independent of the closed form: least squares by the normal equations over drawn runs, spread over studies.
    const otherIds = ['b', 'c', 'd'].slice(0, others);
    const { orders } = reckon({ ...asked, otherIds, contrastIds: otherIds, runsADay, days: 6 }, basis);
    expect(orders.kind).toBe(kind);
    const precision = plannedPrecision(orders.days, 'a', 'b');
    const random = createRandom(31);
    let [sumSquares, sumLeft] = [0, 0];
    const studies = 4000;
    for (let study = 0; study < studies; study++) {
      const rows = orders.days.flatMap((day, j) => {
        const session = 3 * drawNormal(random);
        return day
          .filter((id) => id === 'a' || id === 'b')
          .map((id) => ({ x: id === 'b' ? 1 : 0, j, z: session + drawNormal(random) }));
      });
      const centred = (value: (row: (typeof rows)[number]) => number) => {
        const of = (j: number) => rows.filter((row) => row.j === j);
        const means = orders.days.map((_, j) =>
          of(j).reduce((sum, row) => sum + value(row) / of(j).length, 0),
        );
        return rows.map((row) => value(row) - (means[row.j] as number));
      };
      const [x, z] = [centred((row) => row.x), centred((row) => row.z)];
      const xx = x.reduce((sum, one) => sum + one * one, 0);
      const estimate = x.reduce((sum, one, i) => sum + one * (z[i] as number), 0) / xx;
      sumSquares += estimate ** 2;
      sumLeft += z.reduce((sum, one, i) => sum + (one - estimate * (x[i] as number)) ** 2, 0);
    }
    // five standard errors of a variance and of a mean of chi squares
    expect(Math.abs((sumSquares / studies) * precision.information - 1)).toBeLessThan(
      5 * Math.sqrt(2 / studies),
    );
    expect(Math.abs(sumLeft / studies - precision.df)).toBeLessThan(
      5 * Math.sqrt((2 * precision.df) / studies),
    );
  });

  it('says how many days the wanted chance takes, and no fewer', () => {
    const { daysNeeded } = reckon(asked, basis);
    expect(daysNeeded).not.toBeNull();
    const at = (days: number) => reckon({ ...asked, days }, basis).power;
    expect(at(daysNeeded as number)).toBeGreaterThanOrEqual(0.8);
    expect(at((daysNeeded as number) - 1)).toBeLessThan(0.8);
    expect(reckon({ ...asked, wantedPercent: 0.01 }, basis).daysNeeded).toBeNull();
  });

  it('asks more of a plan that names several contrasts', () => {
    const one = reckon({ ...asked, runsADay: 4, otherIds: ['b', 'c'], contrastIds: ['b'] }, basis);
    const two = reckon({ ...asked, runsADay: 4, otherIds: ['b', 'c'], contrastIds: ['b', 'c'] }, basis);
    expect(two.power).toBeLessThan(one.power);
  });

  it('finds with the wanted chance what it says that it detects', () => {
    const { detectablePercent } = reckon({ ...asked, days: 8 }, basis);
    const again = reckon({ ...asked, days: 8, wantedPercent: detectablePercent as number }, basis);
    expect(again.power).toBeCloseTo(0.8, 6);
  });
});

describe('what a plan takes', () => {
  it('is distance over speed, energy over distance and the charge back to the start between runs', () => {
    const found = reckon({ ...asked, pricePerWh: 0.0004 }, basis);
    // 5 days of 2 runs of 50 km and 10 km before the first: 550 km at 25 m/s.
    expect(found.runs).toBe(10);
    expect(found.runsOf).toEqual([
      { setupId: 'a', runs: 5 },
      { setupId: 'b', runs: 5 },
    ]);
    expect(found.drivingS).toBeCloseTo(22_000, 9);
    expect(found.betweenS).toBe(9000);
    expect(found.energyWh).toBeCloseTo(110_000, 6);
    // bought at 0.92 of what it gives
    expect(found.cost).toBeCloseTo((110_000 * 0.0004) / 0.92, 9);
    // one run draws 10 of 50 kWh; once a day it is charged back
    expect(found.charging?.stops).toBe(5);
    expect(found.charging?.shareOfRun).toBeCloseTo(0.2, 12);
    expect(found.charging?.timeS).toBeGreaterThan(5 * ((0.2 * 50_000 * 3600) / 100_000));
  });

  it('says nothing of energy where nobody has driven it', () => {
    const found = reckon(asked, { ...basis, consumptionWhPerKm: null });
    expect([found.energyWh, found.charging, found.cost]).toEqual([null, null, null]);
  });
});

describe('cautions', () => {
  const of = (changes: Partial<ReckoningAsked>, other: Partial<ReckoningBasis> = {}) => {
    const question = { ...asked, ...changes };
    const found: Reckoned = reckon(question, { ...basis, ...other });
    return planCautions(found, question).join(' ');
  };

  it('come with what is wrong, and only then', () => {
    expect(of({ days: 12 })).toBe('');
    expect(of({ days: 1 })).toMatch(/^So few runs cannot show how well they repeat.*A single day/);
    expect(of({ days: 3 })).toMatch(
      /^The difference that you want to see may well be missed: it would take \d+ days\.$/,
    );
    expect(of({ wantedPercent: 0.01 })).toMatch(/too small for a study/);
    expect(of({ days: 12 }, { loopLengthM: 250_000 })).toMatch(/more than the battery gives/);
  });
});
