import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { covarianceOfDifference } from '@/lib/physics/difference';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { runParts } from '@/lib/reduction/runParts';
import { sharedUncertainty, sharedUncertaintyOfDifference } from '@/lib/stats/scopes';
import { type SharingRun, sharedPartsBySetup, sharedUncertainties } from '@/lib/stats/sharedUncertainties';
import { ENGINE, type SnapshotChanges, snapshotOf } from '../reduction/exampleSnapshot';

function result(form = {}, car: SnapshotChanges['car'] = {}): NormalisedRun {
  const { normalisation } = reduceRun(snapshotOf({ form, car }), ENGINE).reduction;
  if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
  return normalisation;
}

interface Driven extends Omit<SharingRun, 'parts'> {
  modelId: string;
  normalisation: NormalisedRun;
}

const runOf = (changes: Partial<Driven> = {}): SharingRun => {
  const { modelId, normalisation, ...run } = {
    setupId: 'baseline',
    sessionId: 'monday',
    carId: 'car',
    loopId: 'loop',
    modelId: 'model',
    normalisation: result(),
    ...changes,
  };
  return { ...run, parts: runParts({ ...run, modelId }, normalisation) };
};
const other = result({ tripEnergy: '31.0', tripEfficiency: '2.15', chargeEnd: '53', airTemperature: '9' });
const all = ['session', 'car', 'model', 'method'] as const;

describe('what the runs of setups share', () => {
  it('of a single run is the car’s and the model’s part of its budget, and the session’s when asked', () => {
    const run = result();
    const parts = (scopes?: Parameters<typeof sharedPartsBySetup>[1]) =>
      sharedPartsBySetup([runOf()], scopes).get('baseline') ?? [];
    const relative = (...us: number[]) => Math.hypot(...us) / run.normalisedWhPerKm;
    expect(sharedUncertainty(parts())).toBeCloseTo(
      relative(run.uByScope.car, run.uByScope.model, run.uByScope.method ?? 0),
      12,
    );
    expect(sharedUncertainty(parts(all))).toBeCloseTo(
      relative(run.uByScope.session, run.uByScope.car, run.uByScope.model, run.uByScope.method ?? 0),
      12,
    );
  });

  it('agrees with the engine’s own difference of two runs on ln of the ratio', () => {
    const bySetup = sharedPartsBySetup([runOf(), runOf({ setupId: 'low', normalisation: other })], all);
    const shared = sharedUncertaintyOfDifference(bySetup.get('baseline') ?? [], bySetup.get('low') ?? []);
    const first = result();
    const own = Math.hypot(
      first.uByScope.run / first.normalisedWhPerKm,
      other.uByScope.run / other.normalisedWhPerKm,
    );
    const { relativeUncertainty } = covarianceOfDifference(first, other, all);
    expect(Math.hypot(shared, own)).toBeCloseTo(relativeUncertainty, 12);
  });

  it('cancels between setups driven alike and not between different models', () => {
    const same = sharedPartsBySetup([runOf(), runOf({ setupId: 'low', sessionId: 'friday' })]);
    expect(sharedUncertaintyOfDifference(same.get('baseline') ?? [], same.get('low') ?? [])).toBe(0);
    const apart = sharedPartsBySetup([runOf(), runOf({ setupId: 'low', modelId: 'van', carId: 'vans' })]);
    const run = result();
    const u = sharedUncertaintyOfDifference(apart.get('baseline') ?? [], apart.get('low') ?? []);
    // only the loop is the same, and what is one number for all models
    const loop = run.budget.filter((entry) => ['distanceM', 'netClimbM'].includes(entry.input));
    const loopVariance = loop.reduce((sum, entry) => sum + entry.contributionWhPerKm ** 2, 0);
    const variance = 2 * (run.uByScope.car ** 2 + run.uByScope.model ** 2 - loopVariance);
    expect(u).toBeCloseTo(Math.sqrt(variance) / run.normalisedWhPerKm, 12);
  });

  it('takes a rolling coefficient of other tyres as another quantity', () => {
    const onTyres = (rollingCoefficient: number) => result({}, { rollingCoefficient });
    const u = (a: NormalisedRun, b: NormalisedRun) => {
      const parts = sharedPartsBySetup([
        runOf({ normalisation: a }),
        runOf({ setupId: 'low', normalisation: b }),
      ]);
      return sharedUncertaintyOfDifference(parts.get('baseline') ?? [], parts.get('low') ?? []);
    };
    const own = (run: NormalisedRun) =>
      (run.budget.find((entry) => entry.input === 'rollingCoefficient')?.contributionWhPerKm ?? 0) /
      run.normalisedWhPerKm;
    const [road, knobbly] = [onTyres(0.009), onTyres(0.0115)];
    expect(u(road, onTyres(0.009))).toBe(0);
    expect(u(road, knobbly)).toBeGreaterThan(Math.hypot(own(road), own(knobbly)) * (1 - 1e-9));
  });

  it('does not shrink with more runs of one car, and as 1/√n with more cars', () => {
    const inCar = (run: NormalisedRun, ofLoop: boolean) =>
      run.budget
        .filter((each) => each.scope === 'car' && ['distanceM', 'netClimbM'].includes(each.input) === ofLoop)
        .reduce((sum, each) => sum + each.contributionWhPerKm ** 2, 0);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), (n) => {
        const ids = Array.from({ length: n }, (_, i) => String(i));
        const u = (runs: SharingRun[]) => sharedUncertainty(sharedPartsBySetup(runs).get('baseline') ?? []);
        expect(u(ids.map((sessionId) => runOf({ sessionId })))).toBeCloseTo(u([runOf()]), 12);
        const run = result();
        const variance =
          inCar(run, false) / n +
          inCar(run, true) +
          run.uByScope.model ** 2 +
          (run.uByScope.method ?? 0) ** 2;
        expect(u(ids.map((carId) => runOf({ carId })))).toBeCloseTo(
          Math.sqrt(variance) / run.normalisedWhPerKm,
          12,
        );
      }),
      { numRuns: 12 },
    );
  });
});

describe('the difference of two setups', () => {
  const low = (changes: Partial<Driven> = {}) => runOf({ setupId: 'low', ...changes });

  it('rests on the sessions or cars that hold both: other cars of one side add nothing', () => {
    const pair = [runOf(), low()];
    const others = ['a', 'b', 'c'].map((id) => runOf({ carId: id, loopId: id, sessionId: id }));
    const between = sharedUncertainties([...pair, ...others]);
    expect(between('baseline', 'low', 'session')).toBeCloseTo(0, 15);
    expect(between('baseline', 'low', 'car')).toBeCloseTo(0, 15);
    // as means over all runs they are four cars against one
    expect(between('baseline', 'low', 'indirect')).toBeGreaterThan(0.003);
  });

  it('within a car is what unequal sensitivities leave, whichever way round', () => {
    const between = sharedUncertainties([runOf(), low({ normalisation: other })]);
    const parts = sharedPartsBySetup([runOf(), low({ normalisation: other })]);
    const expected = sharedUncertaintyOfDifference(parts.get('baseline') ?? [], parts.get('low') ?? []);
    expect(between('baseline', 'low', 'session')).toBeCloseTo(expected, 12);
    expect(between('low', 'baseline', 'car')).toBeCloseTo(expected, 12);
    expect(expected).toBeGreaterThan(0);
  });

  it('falls back to the means where nothing joins the two', () => {
    const runs = [runOf(), low({ carId: 'another', sessionId: 'friday', loopId: 'elsewhere' })];
    const between = sharedUncertainties(runs);
    const mean = between('baseline', 'low', 'across');
    expect(between('baseline', 'low', 'session')).toBe(mean);
    expect(mean).toBeGreaterThan(0);
  });
});
