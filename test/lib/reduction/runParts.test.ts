import { describe, expect, it } from 'vitest';
import { covarianceOfDifference } from '@/lib/physics/difference';
import { consumptionAt } from '@/lib/physics/estimate/consumptionAt';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { type RunPart, readerParts, runParts } from '@/lib/reduction/runParts';
import { sharedUncertainty, sharedUncertaintyOfDifference } from '../stats/sharedParts';
import { ENGINE, type SnapshotChanges, snapshotOf } from './exampleSnapshot';

function result(form = {}, car: SnapshotChanges['car'] = {}): NormalisedRun {
  const { normalisation } = reduceRun(snapshotOf({ form, car }), ENGINE).reduction;
  if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
  return normalisation;
}

interface Driven {
  sessionId: string;
  carId: string;
  loopId: string;
  modelId: string;
  setupId: string;
  normalisation: NormalisedRun;
}

const scopesBut = (left: readonly string[]) => (part: RunPart) => !left.includes(part.scope);
const partsOf = (changes: Partial<Driven> = {}, left: readonly string[] = ['session']): RunPart[] => {
  const { normalisation, ...owners } = {
    sessionId: 'monday',
    carId: 'car',
    loopId: 'loop',
    modelId: 'model',
    setupId: 'setup',
    normalisation: result(),
    ...changes,
  };
  return runParts(owners, normalisation).filter(scopesBut(left));
};
const other = result({ tripEnergy: '31.0', tripEfficiency: '2.15', chargeEnd: '53', airTemperature: '9' });
const all = ['session', 'car', 'model', 'method'] as const;

describe('what the runs of setups share', () => {
  it('of a single run is the car’s, the model’s and the method’s part of its budget, and the session’s when asked', () => {
    const run = result();
    const relative = (...us: number[]) => Math.hypot(...us) / run.normalisedWhPerKm;
    expect(sharedUncertainty(partsOf())).toBeCloseTo(
      relative(run.uByScope.car, run.uByScope.model, run.uByScope.method ?? 0),
      12,
    );
    expect(sharedUncertainty(partsOf({}, []))).toBeCloseTo(
      relative(run.uByScope.session, run.uByScope.car, run.uByScope.model, run.uByScope.method ?? 0),
      12,
    );
  });

  it('agrees with the engine’s own difference of two runs on ln of the ratio', () => {
    const shared = sharedUncertaintyOfDifference(partsOf({}, []), partsOf({ normalisation: other }, []));
    const first = result();
    const own = Math.hypot(
      first.uByScope.run / first.normalisedWhPerKm,
      other.uByScope.run / other.normalisedWhPerKm,
    );
    const { relativeUncertainty } = covarianceOfDifference(first, other, all);
    expect(Math.hypot(shared, own)).toBeCloseTo(relativeUncertainty, 12);
  });

  it('cancels between setups driven alike and not between different models', () => {
    expect(sharedUncertaintyOfDifference(partsOf(), partsOf({ sessionId: 'friday' }))).toBe(0);
    const apart = partsOf({ modelId: 'van', carId: 'vans' });
    const run = result();
    const u = sharedUncertaintyOfDifference(partsOf(), apart);
    // only the loop is the same, and what is one number for all models
    const loop = run.budget.filter((entry) => ['distanceM', 'netClimbM'].includes(entry.input));
    const loopVariance = loop.reduce((sum, entry) => sum + entry.contributionWhPerKm ** 2, 0);
    const variance = 2 * (run.uByScope.car ** 2 + run.uByScope.model ** 2 - loopVariance);
    expect(u).toBeCloseTo(Math.sqrt(variance) / run.normalisedWhPerKm, 12);
  });

  it('takes a rolling coefficient of other tyres as another quantity', () => {
    const onTyres = (rollingCoefficient: number) => result({}, { rollingCoefficient });
    const u = (a: NormalisedRun, b: NormalisedRun) =>
      sharedUncertaintyOfDifference(partsOf({ normalisation: a }), partsOf({ normalisation: b }));
    const own = (run: NormalisedRun) =>
      (run.budget.find((entry) => entry.input === 'rollingCoefficient')?.contributionWhPerKm ?? 0) /
      run.normalisedWhPerKm;
    const [road, knobbly] = [onTyres(0.009), onTyres(0.0115)];
    expect(u(road, onTyres(0.009))).toBe(0);
    expect(u(road, knobbly)).toBeGreaterThan(Math.hypot(own(road), own(knobbly)) * (1 - 1e-9));
  });
});

describe('what an answer to a reader shares with the runs', () => {
  const owners = { sessionId: 'monday', carId: 'car', loopId: 'loop', modelId: 'model', setupId: 'setup' };
  const { engineCase, reduction } = reduceRun(snapshotOf({}), ENGINE);
  const { normalisation } = reduction;
  if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
  const at = consumptionAt(engineCase, normalisation.normalisedWhPerKm, 'shown');
  const isAssumed = ({ scope }: RunPart) => scope === 'model' || scope === 'method';

  it('goes by the runs’ own names, and at a run’s conditions undoes its part in the value', () => {
    const behind = runParts(owners, normalisation).filter(isAssumed);
    const direct = readerParts(owners, at, false).filter(isAssumed);
    const nameOf = ({ input, scope, key }: RunPart) => `${input} ${scope} ${key}`;
    expect(direct.map(nameOf).sort()).toEqual(behind.map(nameOf).sort());
    for (const part of direct) {
      const of = behind.find((other) => nameOf(other) === nameOf(part));
      expect(at.gain * (of?.contribution as number) + part.contribution).toBeCloseTo(0, 7);
    }
  });

  it('holds what is a single run’s only where one trip is meant', () => {
    const inputs = (oneTrip: boolean) => readerParts(owners, at, oneTrip).map((part) => part.input);
    expect(inputs(true)).toContain('tyreWarmUpShare');
    expect(inputs(false)).not.toContain('tyreWarmUpShare');
  });
});
