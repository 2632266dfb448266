import { describe, expect, it } from 'vitest';
import { cruiseSpeedEffect } from '@/lib/stats/cruiseSpeed';
import { moderatedMean } from '@/lib/stats/moderatedMean';
import { readResult, readTable } from './reference';

const known = Number.POSITIVE_INFINITY;

describe('a factor across models', () => {
  it('is plain REML without a prior: metafor on the BCG trials', () => {
    // metafor 3.8-1, rma(yi, vi, method = "REML"); it stops its scoring at 1e-5 in τ².
    const wanted = readResult<{ REML: { b: number; se: number; tau2: number } }>('metafor_bcg').REML;
    const effects = readTable('dat_bcg').map((row, i) => ({
      name: String(i),
      y: Number(row.yi),
      variance: Number(row.vi),
      df: known,
    }));
    const found = moderatedMean(effects, null);
    expect((found?.tau2 ?? 0) / wanted.tau2).toBeCloseTo(1, 6);
    expect((found?.estimate ?? 0) / wanted.b).toBeCloseTo(1, 6);
    expect((found?.se ?? 0) / wanted.se).toBeCloseTo(1, 6);
  });

  it('asks for three models, and for five before a further one', () => {
    const some = (k: number) =>
      Array.from({ length: k }, (_, i) => ({ name: `${i}`, y: 0.01 * i, variance: 1e-5, df: known }));
    expect(moderatedMean(some(2))).toBeNull();
    expect(moderatedMean(some(4))?.further).toBeNull();
    const five = moderatedMean(some(5));
    expect(five?.further?.sd).toBeGreaterThan(five?.se as number);
    // The believed spread keeps three models that happen to agree from a spread of nothing.
    const alike = some(3).map((effect) => ({ ...effect, y: 0.02 }));
    expect(Math.sqrt(moderatedMean(alike)?.tau2 as number)).toBeGreaterThan(0.003);
    expect(moderatedMean(alike, null)?.tau2).toBe(0);
  });

  it('does not average out what all models share', () => {
    const effects = (shared?: Record<string, number>) =>
      Array.from({ length: 4 }, (_, i) => ({
        name: `${i}`,
        y: 0.01 + 0.001 * i,
        variance: 4e-6,
        df: known,
        ...(shared === undefined ? {} : { shared }),
      }));
    const [bare, whole] = [moderatedMean(effects()), moderatedMean(effects({ kappa: 0.02 }))];
    expect((whole?.se ?? 0) ** 2).toBeCloseTo((bare?.se ?? 0) ** 2 + 0.02 ** 2, 8);
    expect(whole?.tau2).toBeCloseTo(bare?.tau2 as number, 9);
  });
});

describe('cruise speed as a factor', () => {
  const components = { car: 0.0004, carLoop: 0, session: 0.0001, residual: 0.00004 };
  const run = (car: string, session: string, z: number, aux: number, drag: number) => ({
    car,
    session,
    z,
    u: 0.003,
    shared: [
      { key: `aux of ${car}`, scope: 'car' as const, contribution: aux },
      { key: 'drag', scope: 'model' as const, contribution: drag },
    ],
  });
  const cars = ['k', 'l', 'm'];
  const fast = cars.map((car, i) => run(car, '1', 5.3 + 0.01 * i, 0.02, 0.06));
  const slow = cars.flatMap((car, i) => [
    run(car, '2', 5.1 + 0.01 * i, 0.03, 0.04),
    run(car, '3', 5.1 + 0.01 * i, 0.03, 0.04),
  ]);

  it('takes each car against itself, and what the sides share out as far as it agrees', () => {
    const found = cruiseSpeedEffect({ runs: fast, components }, { runs: slow, components });
    // One session against two: v_S (1 + 1/2) + (v + u²)(1 + 1/2), and the car's own input by its difference.
    const wanted = 1.5 * (0.0001 + 0.00004 + 0.003 ** 2) + 0.01 ** 2;
    expect(found.cars.map((car) => car.y)).toEqual([
      expect.closeTo(0.2, 12),
      expect.closeTo(0.2, 12),
      expect.closeTo(0.2, 12),
    ]);
    for (const car of found.cars) expect(car.variance).toBeCloseTo(wanted, 12);
    for (const car of found.cars) expect(car.shared?.['model drag']).toBeCloseTo(0.02, 12);
    expect(found.combined?.estimate).toBeCloseTo(0.2, 10);
    expect(found.combined?.se).toBeGreaterThan(0.02);
  });

  it('counts with the scatter of runs what the day does unequally to them', () => {
    const sky = (car: string, contribution: number) => ({
      ...run(car, '1', 5.3, 0.02, 0.06),
      shared: [{ key: `sky of ${car}`, scope: 'session' as const, contribution }],
    });
    const even = cars.flatMap((car) => [sky(car, 0.02), sky(car, 0.02)]);
    const uneven = cars.flatMap((car) => [sky(car, 0.01), sky(car, 0.03)]);
    const of = (runs: typeof even) =>
      cruiseSpeedEffect({ runs, components }, { runs: slow, components }).cars.map(
        ({ variance }) => variance,
      );
    // by hand: each run by (1 %)²·2/(2 − 1) more, their mean by half of that
    expect(of(uneven).map((variance, i) => variance - (of(even)[i] as number))).toEqual(
      cars.map(() => expect.closeTo(1e-4, 12)),
    );
  });

  it('knows the scatter of days and runs no better than their classes do, however many cars share it', () => {
    const uncertainty = { session: 2e-9, residual: 3e-10, both: -2e-10 };
    const pooled = (known?: typeof uncertainty) =>
      cruiseSpeedEffect(
        { runs: fast, components, uncertainty: known },
        { runs: slow, components, uncertainty: known },
      ).combined;
    const [sure, found] = [pooled(), pooled(uncertainty)];
    expect(found?.se).toBe(sure?.se);
    const noise = (mean: typeof sure) => (2 * (mean?.se ?? 0) ** 4) / (mean?.df ?? 1);
    // Delta method by hand: of three like cars' mean, v_S and v stand once on the one side and half on the other.
    const wanted = ((1 + 0.5 ** 2) / 9) * (2e-9 + 3e-10 - 2 * 2e-10);
    expect((noise(found) - noise(sure)) / wanted).toBeCloseTo(1, 6);
  });

  it('leaves out cars that drove one class only, and pools from three cars on', () => {
    const two = cruiseSpeedEffect({ runs: fast.slice(0, 2), components }, { runs: slow, components });
    expect([two.cars.length, two.combined]).toEqual([2, null]);
  });
});
