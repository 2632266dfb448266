import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { covarianceOfDifference } from '@/lib/physics/difference';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { type SharingRun, sharedPartsBySetup } from '@/lib/registry/rankings/sharedParts';
import { normaliseRecord } from '@/lib/registry/runs/reduceRun';
import { sharedUncertainty, sharedUncertaintyOfDifference } from '@/lib/stats/scopes';
import { recordOf, subjectsOf } from '../runs/exampleRecord';

function result(form = {}): NormalisedRun {
  const { normalisation } = normaliseRecord(recordOf(form), subjectsOf()).reduction;
  if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
  return normalisation;
}

const runOf = (changes: Partial<SharingRun> = {}): SharingRun => ({
  setupId: 'baseline',
  sessionId: 'monday',
  carId: 'car',
  loopId: 'loop',
  modelId: 'model',
  normalisation: result(),
  ...changes,
});
const other = result({ tripEnergy: '31.0', tripEfficiency: '2.15', chargeEnd: '53', airTemperature: '9' });
const all = ['session', 'car', 'model'] as const;

describe('what the runs of setups share', () => {
  it('of a single run is the car’s and the model’s part of its budget, and the session’s when asked', () => {
    const run = result();
    const parts = (scopes?: Parameters<typeof sharedPartsBySetup>[1]) =>
      sharedPartsBySetup([runOf()], scopes).get('baseline') ?? [];
    const relative = (...us: number[]) => Math.hypot(...us) / run.normalisedWhPerKm;
    expect(sharedUncertainty(parts())).toBeCloseTo(relative(run.uByScope.car, run.uByScope.model), 12);
    expect(sharedUncertainty(parts(all))).toBeCloseTo(
      relative(run.uByScope.session, run.uByScope.car, run.uByScope.model),
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
    // only the loop is the same
    const loop = run.budget.filter((entry) =>
      ['distanceM', 'netClimbM', 'offCruiseShare'].includes(entry.input),
    );
    const loopVariance = loop.reduce((sum, entry) => sum + entry.contributionWhPerKm ** 2, 0);
    const variance = 2 * (run.uByScope.car ** 2 + run.uByScope.model ** 2 - loopVariance);
    expect(u).toBeCloseTo(Math.sqrt(variance) / run.normalisedWhPerKm, 12);
  });

  it('does not shrink with more runs of one car, and as 1/√n with more cars', () => {
    const inCar = (run: NormalisedRun, ofLoop: boolean) =>
      run.budget
        .filter(
          (each) =>
            each.scope === 'car' &&
            ['distanceM', 'netClimbM', 'offCruiseShare'].includes(each.input) === ofLoop,
        )
        .reduce((sum, each) => sum + each.contributionWhPerKm ** 2, 0);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), (n) => {
        const ids = Array.from({ length: n }, (_, i) => String(i));
        const u = (runs: SharingRun[]) => sharedUncertainty(sharedPartsBySetup(runs).get('baseline') ?? []);
        expect(u(ids.map((sessionId) => runOf({ sessionId })))).toBeCloseTo(u([runOf()]), 12);
        const run = result();
        const variance = inCar(run, false) / n + inCar(run, true) + run.uByScope.model ** 2;
        expect(u(ids.map((carId) => runOf({ carId })))).toBeCloseTo(
          Math.sqrt(variance) / run.normalisedWhPerKm,
          12,
        );
      }),
      { numRuns: 12 },
    );
  });
});
