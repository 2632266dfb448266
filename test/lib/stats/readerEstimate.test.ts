import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { COMPONENTS } from '@/lib/stats/accumulate';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { GroupFit } from '@/lib/stats/groupFit';
import { type ReaderAnswer, readerVariance } from '@/lib/stats/readerEstimate';
import { invert } from './dense';

const SD = { car: 0.03, session: 0.015, run: 0.01, u: 0.004 };
/** Drag, of the model, acts on both setups nearly alike; a method's input moves with the day. */
const DRAG = [0.012, 0.011] as const;
const perDay = (car: number, day: number) => 0.004 + 0.003 * ((car + 2 * day) % 3);

interface World {
  rows: FitRow[];
  drag: number;
  method: number;
}

/** Two setups, every car driving both on each day; shared errors are drawn once and stand in every run. */
function world(seed: number, cars = 7, days = 2): World {
  const random = createRandom(seed);
  const [drag, method] = [drawNormal(random), drawNormal(random)];
  const rows: FitRow[] = [];
  for (let c = 0; c < cars; c++) {
    const ofCar = SD.car * drawNormal(random);
    for (let s = 0; s < days; s++) {
      const ofDay = SD.session * drawNormal(random);
      for (const setup of [0, 1, 0]) {
        const shared = [
          { key: 'drag of model', scope: 'model' as const, contribution: DRAG[setup] as number },
          { key: 'warmth of method', scope: 'method' as const, contribution: perDay(c, s) },
        ];
        rows.push({
          setup: `setup ${setup}`,
          car: `car ${c}`,
          loop: 'loop',
          session: `day ${s}`,
          model: 'model',
          z:
            5 -
            0.03 * setup +
            ofCar +
            ofDay +
            Math.hypot(SD.run, SD.u) * drawNormal(random) +
            (DRAG[setup] as number) * drag +
            perDay(c, s) * method,
          u: SD.u,
          shared,
        });
      }
    }
  }
  return { rows, drag, method };
}

const GAIN = 0.9;
const DIRECT = { drag: -0.006, method: 0.01, habit: 0.008 };
const answer = (setup: number, changes: Partial<ReaderAnswer> = {}): ReaderAnswer => ({
  setup: `setup ${setup}`,
  gain: GAIN,
  direct: [
    { key: 'drag of model', scope: 'model', contribution: DIRECT.drag },
    { key: 'warmth of method', scope: 'method', contribution: DIRECT.method },
    { key: 'heating of reader', scope: 'car', contribution: DIRECT.habit },
  ],
  car: 'reader',
  ...changes,
});
const one = (setup: number, changes: Partial<ReaderAnswer> = {}) => [
  { weight: 1, answer: answer(setup, changes) },
];
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

describe('intervals of answers, over worlds that draw everything', { timeout: 60_000 }, () => {
  it('hold a further car’s trip, and what the other setup would save on it, at the stated rate', () => {
    const worlds = 150;
    let [trips, savings] = [0, 0];
    for (let seed = 1; seed <= worlds; seed++) {
      const { rows, drag, method } = world(1000 + seed);
      const fitted = fitGroup(rows, { draws: 50 });
      const random = createRandom(90_000 + seed);
      const deviation = Math.hypot(SD.car, SD.session, SD.run) * drawNormal(random);
      const habit = DIRECT.habit * drawNormal(random);
      // the computed answer errs by what it does with each shared error beyond what stands in the estimate
      const truth = (setup: number) =>
        GAIN * (5 - 0.03 * setup + deviation) - DIRECT.drag * drag - DIRECT.method * method + habit;
      const computed = (setup: number) => GAIN * (fitted.estimates[setup]?.beta as number);
      const holds = (error: number, { u, df }: { u: number; df: number }) =>
        Math.abs(error) <= tUpperQuantile(0.025, df) * u;
      if (holds(computed(0) - truth(0), readerVariance(fitted, one(0), true))) trips += 1;
      const pair = [...one(0), { weight: -1, answer: answer(1) }];
      const saved = computed(0) - computed(1) - (truth(0) - truth(1));
      if (holds(saved, readerVariance(fitted, pair, true))) savings += 1;
    }
    // three standard errors of a share of 0.95 over 150 worlds are 5.3 %
    expect(Math.abs(trips / worlds - 0.95)).toBeLessThan(0.053);
    expect(Math.abs(savings / worlds - 0.95)).toBeLessThan(0.053);
  });
});
