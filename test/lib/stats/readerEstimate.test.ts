import { describe, expect, it } from 'vitest';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { COMPONENTS } from '@/lib/stats/accumulate';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { GroupFit } from '@/lib/stats/groupFit';
import { readerVariance } from '@/lib/stats/readerEstimate';
import { invert } from './dense';
import { answer, DIRECT, GAIN, one, world } from './readerWorld';

const fit = fitGroup(world(3).rows, { draws: 200 });
const lambdaOf = (key: string, setup: number) =>
  fit.sharedEffects.find((effect) => effect.key === key)?.effects[setup] as number;

/** (X'V⁻¹X)⁻¹ with V written out, at any components. */
function denseCovariance(rows: readonly FitRow[], v: GroupFit['components']): number[][] {
  const same = (a: FitRow, b: FitRow, ...names: ('car' | 'session')[]) => names.every((n) => a[n] === b[n]);
  const { inverse } = invert(
    rows.map((a, i) =>
      rows.map(
        (b, j) =>
          (same(a, b, 'car') ? v.car + v.carLoop : 0) +
          (same(a, b, 'car', 'session') ? v.session : 0) +
          (i === j ? v.residual + (a.u as number) ** 2 : 0),
      ),
    ),
  );
  const m = [0, 1].map((s) =>
    [0, 1].map((t) => {
      let sum = 0;
      rows.forEach((a, i) => {
        if (a.setup !== `setup ${s}`) return;
        rows.forEach((b, j) => {
          if (b.setup === `setup ${t}`) sum += inverse[i]?.[j] as number;
        });
      });
      return sum;
    }),
  );
  return invert(m).inverse;
}

describe('the uncertainty of an answer to a reader', () => {
  it('is the formula of the method written out with whole matrices', () => {
    const { rows } = world(3);
    const v = fit.components;
    const own = denseCovariance(rows, v);
    const found = readerVariance(fit, one(0), true);
    const shared =
      (GAIN * lambdaOf('drag of model', 0) + DIRECT.drag) ** 2 +
      (GAIN * lambdaOf('warmth of method', 0) + DIRECT.method) ** 2;
    expect(found.parts.shared / shared).toBeCloseTo(1, 9);
    expect(found.parts.ofReader).toBeCloseTo(DIRECT.habit ** 2, 12);
    expect(found.parts.car).toBeCloseTo(GAIN ** 2 * v.car, 12);
    // the fit's part carries a small-sample correction or none
    expect(found.parts.fit / (GAIN ** 2 * (own[0]?.[0] as number))).toBeCloseTo(1, 4);
    expect(found.u ** 2).toBeCloseTo(
      found.parts.fit + GAIN ** 2 * (v.car + v.carLoop + v.session + v.residual) + shared + DIRECT.habit ** 2,
      12,
    );
    expect(readerVariance(fit, one(0), false).parts.run).toBe(0);
  });

  it('has Satterthwaite’s degrees of freedom, the gradient taken numerically from whole matrices', () => {
    const { rows } = world(3);
    const variance = (changes: Partial<GroupFit['components']>) =>
      GAIN ** 2 * (denseCovariance(rows, { ...fit.components, ...changes })[0]?.[0] as number);
    const gradient = COMPONENTS.map((name) => {
      const v = fit.components[name];
      const h = 1e-4 * (v === 0 ? 1e-4 : v);
      const slope =
        (variance({ [name]: v + h }) - variance({ [name]: v === 0 ? v : v - h })) / (v === 0 ? h : 2 * h);
      return slope + GAIN ** 2;
    });
    const a = fit.dfTerms?.componentCovariance as number[][];
    let spread = 0;
    gradient.forEach((x, j) => {
      gradient.forEach((y, k) => {
        spread += x * y * (a[j]?.[k] as number);
      });
    });
    const { u, df } = readerVariance(fit, one(0), true);
    expect(df / ((2 * u ** 4) / spread)).toBeCloseTo(1, 4);
  });

  it('without the terms of an older fit has fewer degrees of freedom, not more', () => {
    for (const terms of [one(0), [...one(0), { weight: -1, answer: answer(1, { gain: 0.85 }) }]]) {
      const bound = readerVariance({ ...fit, dfTerms: null }, terms, true);
      const exact = readerVariance(fit, terms, true);
      expect(bound.u).toBe(exact.u);
      expect(bound.df).toBeLessThanOrEqual(exact.df * (1 + 1e-9));
      expect(bound.df).toBeGreaterThan(2);
    }
    expect(readerVariance({ ...fit, dfTerms: null, componentCovariance: [] }, one(0), true).df).toBe(0);
  });

  it('keeps that bound where inputs that differ within sessions take variance from the estimates', () => {
    const random = createRandom(11);
    const uneven = world(3).rows.map((row) => ({
      ...row,
      shared: [
        ...(row.shared ?? []),
        { key: `climate of ${row.car}`, scope: 'car' as const, contribution: 0.01 * drawNormal(random) },
      ],
    }));
    const own = fitGroup(uneven, { draws: 50 });
    expect(own.spreadRatio).toBeGreaterThan(1);
    expect(fit.spreadRatio).toBe(1);
    for (const k of own.setups.keys()) {
      const answers = one(0).map(({ weight, answer: of }) => ({
        weight,
        answer: { ...of, setup: own.setups[k] as string },
      }));
      const exact = readerVariance(own, answers, true);
      expect(readerVariance({ ...own, dfTerms: null }, answers, true).df).toBeLessThanOrEqual(
        exact.df * (1 + 1e-9),
      );
    }
  });

  it('loses what stands behind value and conditions alike at a run’s own conditions', () => {
    const direct = ['drag of model', 'warmth of method'].map((key) => ({
      key,
      scope: key.endsWith('model') ? ('model' as const) : ('method' as const),
      contribution: -GAIN * lambdaOf(key, 0),
    }));
    expect(readerVariance(fit, one(0, { direct }), true).parts.shared).toBeCloseTo(0, 20);
  });

  it('of two setups side by side is far below the root of the sum of their squares', () => {
    const pair = [...one(0), { weight: -1, answer: answer(1) }];
    const apart = Math.hypot(readerVariance(fit, one(0), true).u, readerVariance(fit, one(1), true).u);
    const found = readerVariance(fit, pair, true);
    expect(found.u).toBeLessThan(0.2 * apart);
    expect(found.parts.car + found.parts.session + found.parts.run + found.parts.ofReader).toBeCloseTo(0, 20);
    // two cars share neither their own draws nor their day
    const others = [...one(0), { weight: -1, answer: answer(1, { car: 'another' }) }];
    expect(readerVariance(fit, others, true).u).toBeGreaterThan(0.7 * apart);
  });

  it('refuses a setup that the fit does not know', () => {
    expect(() => readerVariance(fit, [{ weight: 1, answer: answer(5) }], true)).toThrow('setup 5');
  });
});
