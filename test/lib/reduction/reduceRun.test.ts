import { describe, expect, it } from 'vitest';
import { covarianceOfDifference } from '@/lib/physics/difference';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { AdoptedRoadLoad } from '@/lib/reduction/adoptedTerms';
import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { runParts } from '@/lib/reduction/runParts';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import type { TyreKind } from '@/lib/run/tyreKind';
import { sharedUncertainty, sharedUncertaintyOfDifference } from '../stats/sharedParts';
import { ENGINE, type SnapshotChanges, snapshotOf } from './exampleSnapshot';

const reduced = (changes: SnapshotChanges = {}) => reduceRun(snapshotOf(changes), ENGINE);

function normalised(changes: SnapshotChanges = {}): NormalisedRun {
  const { normalisation } = reduced(changes).reduction;
  if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
  return normalisation;
}

const second = {
  startedAtLocal: '2026-05-14T11:30',
  tripEnergy: '31.0',
  tripEfficiency: '2.15',
  chargeEnd: '53',
};

describe('what runs share and what is their own', () => {
  it('each input has the scope in which it is one number', () => {
    const scopes = Object.fromEntries(normalised().budget.map(({ input, scope }) => [input, scope]));
    expect(scopes).toMatchObject({
      energyWh: 'run',
      durationS: 'run',
      cruiseSpeedMps: 'run',
      distanceM: 'car',
      netClimbM: 'car',
      offCruiseShare: 'run',
      massKg: 'model',
      airTemperatureC: 'session',
      pressurePa: 'session',
      relativeHumidity: 'session',
      alongWindMps: 'session',
      crossWindMps: 'session',
      auxiliaryPowerW: 'session',
      auxiliaryHabitW: 'car',
      dragAreaM2: 'model',
      yawDragPerRad2: 'method',
      rollingTemperaturePerK: 'method',
    });
  });

  it('only the run’s own part goes into the fit', () => {
    const record = reduced();
    const result = record.reduction.normalisation as NormalisedRun;
    const own = result.budget.filter((entry) => entry.scope === 'run');
    const u = Math.sqrt(own.reduce((sum, entry) => sum + entry.contributionWhPerKm ** 2, 0));
    const stored = normalisationRow(record);
    expect(stored.uRunRelative).toBeCloseTo(u / result.normalisedWhPerKm, 12);
    expect(stored.uWhPerKm).toBeGreaterThan(1.5 * u);
  });

  it('two equal runs of one session differ by their own parts alone: all that is shared cancels', () => {
    const [a, b] = [normalised(), normalised()];
    const difference = covarianceOfDifference(a, b, ['session', 'car', 'model', 'method']);
    expect(difference.uWhPerKm).toBeCloseTo(Math.SQRT2 * a.uByScope.run, 9);
    // with nothing shared the same pair would be as unsure as two strangers
    expect(covarianceOfDifference(a, b, []).uWhPerKm).toBeCloseTo(Math.SQRT2 * a.uWhPerKm, 9);
  });

  it('a prior shared by two runs of a session cancels in their difference as far as it acts alike', () => {
    const [a, b] = [normalised(), normalised({ form: second })];
    const difference = covarianceOfDifference(a, b, ['session', 'car', 'model', 'method']);
    const own = Math.hypot(a.uByScope.run, b.uByScope.run);
    const apart = Math.hypot(a.uWhPerKm, b.uWhPerKm);
    expect(difference.uWhPerKm).toBeGreaterThan(own);
    expect(difference.uWhPerKm).toBeLessThan(own + 0.1 * (apart - own));
  });
});

describe('a car’s own values', () => {
  it('override the model’s, and those the priors; the budget names where each is from', () => {
    const labels = (changes: SnapshotChanges) =>
      Object.fromEntries(
        normalised(changes).budget.map(({ input, label, value }) => [input, [label, value]]),
      );
    expect(labels({})).toMatchObject({
      dragAreaM2: ['Drag area (prior)', 1.1],
      rollingCoefficient: ['Rolling resistance coefficient (prior)', 0.009],
      massKg: ['Mass as driven (of the model)', 2995],
    });
    const model = { dragAreaM2: 0.95, dragAreaSource: 'wind tunnel sheet' };
    expect(labels({ model })).toMatchObject({ dragAreaM2: ['Drag area (of the model)', 0.95] });
    const car = {
      dragAreaM2: 1.02,
      rollingCoefficient: 0.0097,
      registeredMassKg: 3000,
      ownValuesSource: 'own coast-down, May 2026',
    };
    const subjects = { car, model };
    expect(labels(subjects)).toMatchObject({
      dragAreaM2: ['Drag area (this car’s own)', 1.02],
      rollingCoefficient: ['Rolling resistance coefficient (this car’s own)', 0.0097],
      massKg: ['Mass as driven (this car’s own)', 3095],
    });
    expect(reduced(subjects).reduction.sources.dragAreaM2).toEqual({
      of: 'car',
      words: 'own coast-down, May 2026',
    });
  });
});

describe('a car’s own coast-down', () => {
  const coastDown = {
    coastDown: { f0N: 250, f1NPerKmh: 0.5, f2NPerKmh2: 0.045 },
    ownValuesSource: 'both directions, 3 May 2026',
  };

  it('takes the place of drag area, rolling and the priors, and is named in the budget', () => {
    const model = { dragAreaM2: 0.95, dragAreaSource: 'wind tunnel sheet' };
    const subjects = { car: coastDown, model };
    const { engineCase, reduction } = reduced(subjects);
    expect(engineCase.vehicle).toMatchObject({
      coastDown: { f0N: 250, f1NPerKmh: 0.5, f2NPerKmh2: 0.045 },
    });
    expect(engineCase.vehicle.dragAreaM2).toBeUndefined();
    const budget = Object.fromEntries(
      (reduction.normalisation as NormalisedRun).budget.map((entry) => [entry.input, entry]),
    );
    // F = f0 + f1·V + f2·V² beside ½·ρ0·CdA·v² + Crr·m·g, ρ0 = 1.189 kg/m³ (UN GTR No. 15, Annex 4), by hand:
    // 2·0.045·3.6²/1.189 = 0.98099 m², 250/(2995·9.80665) = 0.0085118, 0.5·3.6 = 1.8 N/(m/s)
    expect(budget.dragAreaM2?.value).toBeCloseTo(0.98099, 5);
    expect(budget.rollingCoefficient?.value).toBeCloseTo(0.0085118, 7);
    expect(budget.linearRollingNPerMps?.value).toBeCloseTo(1.8, 12);
    for (const input of ['dragAreaM2', 'rollingCoefficient', 'linearRollingNPerMps']) {
      expect(budget[input]?.label).toMatch(/\(this car’s own\)$/);
      // measured on this car: other cars of the model do not share its error
      expect(budget[input]?.scope).toBe('car');
      expect((budget[input]?.u ?? 0) / (budget[input]?.value ?? 0)).toBeCloseTo(0.03, 9);
    }
    expect(reduction.sources.linearRollingNPerMps).toEqual({
      of: 'car',
      words: 'coast-down of this car: both directions, 3 May 2026',
    });
  });

  it('leaves a run with less of its uncertainty than the priors do', () => {
    expect(normalised({ car: coastDown }).uWhPerKm).toBeLessThan(normalised().uWhPerKm);
  });
});

describe('an adopted road load', () => {
  // CdA/η 1.0 ± 0.05 m², Crr/η 0.0105 ± 0.0008, correlated by −0.75; η = 0.90
  const adopted: AdoptedRoadLoad = {
    label: '1+priors1+learned1',
    runs: 14,
    posterior: {
      mean: [1, 0.0105, 600],
      covariance: [
        [0.05 ** 2, -0.75 * 0.05 * 0.0008, 0],
        [-0.75 * 0.05 * 0.0008, 0.0008 ** 2, 0],
        [0, 0, 100 ** 2],
      ],
    },
    levels: [],
  };
  const method: Method = { label: '1+priors1+learned1', roadLoads: new Map([['model', adopted]]) };
  const under = (changes: SnapshotChanges) => {
    const record = reduceRun(snapshotOf(changes), method);
    const normalisation = record.reduction.normalisation as NormalisedRun;
    return {
      record,
      normalisation,
      budget: Object.fromEntries(normalisation.budget.map((entry) => [entry.input, entry])),
    };
  };
  const setupWith = (factor: string): SnapshotChanges => ({
    setup: { levels: [{ factor, levelId: 'low', isBaseline: false, tyreKind: null }] },
  });

  const tyresWith = (tyreKind: TyreKind) => ({
    levels: [{ factor: 'wheelTyre', levelId: tyreKind, isBaseline: false, tyreKind }],
  });

  it('takes the place of the priors with its uncertainty and correlation, shared by the model', () => {
    const { record, normalisation, budget } = under({});
    expect(budget.dragAreaM2).toMatchObject({
      value: expect.closeTo(0.9, 12),
      u: expect.closeTo(0.045, 12),
      scope: 'model',
      label: 'Drag area (learned from the model’s runs)',
    });
    expect(budget.rollingCoefficient).toMatchObject({
      value: expect.closeTo(0.00945, 12),
      u: expect.closeTo(0.00072, 12),
      scope: 'model',
    });
    expect(record.engineCase.correlations).toEqual([
      { inputs: ['dragAreaM2', 'rollingCoefficient'], coefficient: expect.closeTo(-0.75, 12) },
    ]);
    expect(record.reduction.sources.dragAreaM2).toEqual({
      of: 'learned',
      words: 'learned from 14 runs of this model, adopted in version 1+priors1+learned1',
    });
    expect(normalisation.methodVersion).toBe('1+priors1+learned1');
    expect(normalisationRow(record).methodVersion).toBe('1+priors1+learned1');
    // the level is the measurement's own: only the adjustment is another
    const before = normalised();
    expect(normalisation.measuredWhPerKm).toBe(before.measuredWhPerKm);
    expect(normalisation.normalisedWhPerKm).not.toBe(before.normalisedWhPerKm);
    expect(normalisation.uWhPerKm).toBeLessThan(before.uWhPerKm);
  });

  it('gives a changed setup the learned values too, with an input of its own for the change', () => {
    const low = under(setupWith('rideHeight'));
    expect(low.budget.dragAreaM2).toMatchObject({ value: expect.closeTo(0.9, 12), scope: 'model' });
    expect(low.budget.dragOfSetup).toMatchObject({ value: 1, u: 0.05, scope: 'model' });
    expect(low.budget.rollingOfSetup).toBeUndefined();
    expect(low.record.engineCase.correlations).toHaveLength(1);
    // no prior says more of another ride height: the number stays, and is known a little less well
    const delivered = under({});
    expect(low.normalisation.normalisedWhPerKm).toBe(delivered.normalisation.normalisedWhPerKm);
    expect(low.normalisation.uWhPerKm).toBeGreaterThan(delivered.normalisation.uWhPerKm);
    const pumped = under(setupWith('tyrePressure'));
    expect(pumped.budget.rollingCoefficient?.value).toBeCloseTo(0.00945, 12);
    expect(pumped.budget.rollingOfSetup).toMatchObject({ value: 1, u: 0.05 });
    for (const factor of ['wheelTyre', 'driveMode']) {
      const other = under(setupWith(factor));
      expect(Object.keys(other.budget)).toEqual(expect.arrayContaining(['dragOfSetup', 'rollingOfSetup']));
      expect(other.normalisation.methodVersion).toBe('1+priors1+learned1');
    }
    expect(under(setupWith('load')).budget.dragOfSetup).toBeUndefined();
  });

  it('is one number with one error for all setups of the model: what a difference keeps of it is how its parts differ', () => {
    const [a, b] = [setupWith('rideHeight'), { setup: tyresWith('allTerrain') }];
    const partOf = (changes: SnapshotChanges, setupId: string) => {
      const { normalisation } = under({ ...changes, form: { airTemperature: setupId === 'a' ? '9' : '24' } });
      const owners = { sessionId: setupId, carId: 'car', loopId: 'loop', modelId: 'model', setupId };
      return runParts(owners, normalisation);
    };
    const parts = [
      ...partOf(a, 'a'),
      ...partOf(b, 'b').map((p) => ({ ...p, contribution: -p.contribution })),
    ];
    const together = (input: string) => {
      const keys = new Map<string, number>();
      for (const part of parts.filter((each) => each.input === input))
        keys.set(part.key, (keys.get(part.key) ?? 0) + part.contribution);
      return keys;
    };
    // the posterior itself moved by its u, drag and rolling with it as their correlation has it
    const ratioWith = (mean: readonly number[]) => {
      const moved = { ...adopted, posterior: { ...adopted.posterior, mean } };
      const [ofA, ofB] = [a, b].map((changes, i) => {
        const snapshot = snapshotOf({ ...changes, form: { airTemperature: i === 0 ? '9' : '24' } });
        const roadLoads = new Map([['model', moved]]);
        return (reduceRun(snapshot, { ...method, roadLoads }).reduction.normalisation as NormalisedRun)
          .normalisedWhPerKm;
      });
      return Math.log((ofA as number) / (ofB as number));
    };
    const step = 1e-3;
    const [ua, ur, rho] = [0.05, 0.0008, -0.75];
    const along = (da: number, dr: number) =>
      (ratioWith([1 + step * da * ua, 0.0105 + step * dr * ur, 600]) -
        ratioWith([1 - step * da * ua, 0.0105 - step * dr * ur, 600])) /
      (2 * step);
    const drag = together('dragAreaM2');
    const rolling = together('rollingCoefficient');
    expect([drag.size, rolling.size]).toEqual([1, 1]);
    expect([...drag.values()][0]).toBeCloseTo(along(1, rho), 7);
    expect([...rolling.values()][0]).toBeCloseTo(along(0, Math.sqrt(1 - rho ** 2)), 7);
    // each change errs by itself
    expect([...together('dragOfSetup').keys()].toSorted()).toEqual(['a', 'b']);
  });

  it('on other tyres is what the engine makes of the product, with the relative variances added', () => {
    // JCGM 100:2008, 5.1.6; ratio and u of the change worked out by hand from 0.0115 ± 0.0018 and 0.0090 ± 0.0012
    const ratio = 1.277778;
    const uRatio = 0.122702;
    const { normalisation, budget } = under({ setup: tyresWith('allTerrain') });
    expect(budget.rollingOfSetup?.value).toBeCloseTo(ratio, 6);
    expect(budget.rollingOfSetup?.u).toBeCloseTo(uRatio, 6);
    const product = 0.00945 * ratio;
    const uProduct = product * Math.hypot(0.00072 / 0.00945, uRatio / ratio);
    const alone = under({ car: { rollingCoefficient: product }, setup: tyresWith('allTerrain') });
    expect(normalisation.normalisedWhPerKm / alone.normalisation.normalisedWhPerKm).toBeCloseTo(1, 7);
    const sensitivity = alone.budget.rollingCoefficient?.sensitivity ?? Number.NaN;
    const split = Math.hypot(
      budget.rollingCoefficient?.contributionWhPerKm ?? Number.NaN,
      budget.rollingOfSetup?.contributionWhPerKm ?? Number.NaN,
    );
    expect(split / Math.abs(sensitivity * uProduct)).toBeCloseTo(1, 5);
  });

  it('goes after a car’s own values and before a drag area stated for the model', () => {
    const model = { dragAreaM2: 0.95, dragAreaSource: 'wind tunnel sheet' };
    expect(under({ model }).budget.dragAreaM2?.value).toBeCloseTo(0.9, 12);
    const own = under({ car: { dragAreaM2: 1.02, ownValuesSource: 'measured' } });
    expect(own.budget.dragAreaM2).toMatchObject({ value: 1.02, label: 'Drag area (this car’s own)' });
    expect(own.budget.rollingCoefficient?.value).toBeCloseTo(0.00945, 12);
    const ownAndChanged = under({ car: { dragAreaM2: 1.02 }, ...setupWith('driveMode') });
    expect(ownAndChanged.budget.dragOfSetup).toBeUndefined();
    expect(ownAndChanged.budget.rollingOfSetup).toBeDefined();
    const coast = under({
      car: { coastDown: { f0N: 250, f1NPerKmh: 0.5, f2NPerKmh2: 0.045 }, ownValuesSource: 'measured' },
    });
    expect(coast.record.engineCase.vehicle.dragAreaM2).toBeUndefined();
    expect(coast.budget.rollingCoefficient?.label).toMatch(/this car’s own/);
    expect(coast.record.engineCase.correlations).toBeUndefined();
  });

  it('of another model is no matter', () => {
    const other = { label: method.label, roadLoads: new Map([['another', adopted]]) };
    const { normalisation } = reduceRun(snapshotOf(), other).reduction;
    expect({ ...normalisation, methodVersion: '' }).toEqual({
      ...reduced().reduction.normalisation,
      methodVersion: '',
    });
  });

  it('shares between setups what their budgets have in common, correlation included', () => {
    const run = under({}).normalisation;
    const sharing = (setupId: string, modelId = 'model', carId = 'car', loopId = 'loop') => {
      const owners = { sessionId: `${setupId} ${modelId}`, carId, loopId, modelId, setupId };
      return runParts(owners, run).filter((part) => part.scope !== 'session');
    };
    const ofBudget =
      Math.hypot(run.uByScope.car, run.uByScope.model, run.uByScope.method ?? 0) / run.normalisedWhPerKm;
    expect(sharedUncertainty(sharing('a'))).toBeCloseTo(ofBudget, 12);
    // the same model driven alike cancels whole; two models with nothing in common add up
    const u = sharedUncertaintyOfDifference;
    expect(u(sharing('a'), sharing('b'))).toBe(0);
    // but for what is one number for all models, which cancels here too, as both runs are the same
    const apart = Math.hypot(run.uByScope.car, run.uByScope.model) / run.normalisedWhPerKm;
    expect(u(sharing('a'), sharing('b', 'van', 'other car', 'other loop'))).toBeCloseTo(
      Math.SQRT2 * apart,
      12,
    );
  });
});

describe('slow-downs', () => {
  it('are counted at the turnaround and the ends, from the loop’s off-cruise part, and taken out again', () => {
    const { engineCase, reduction } = reduced();
    const { run } = engineCase;
    // 61 min over 107.5 km at 70 mph: 5 % of it at v_off = q/(t/D − (1 − q)/v)
    const cruise = (70 * 1609.344) / 3600;
    const off = 0.05 / (3660 / 107_500 - 0.95 / cruise);
    expect(run.stops).toEqual([{ fromMps: cruise, toMps: expect.closeTo(off, 9), count: 2 }]);
    const steps = (reduction.normalisation as NormalisedRun).steps;
    expect(steps.find((step) => step.name === 'stops')?.deltaWhPerKm).toBeLessThan(0);
    const level = reduced({ loop: { offCruiseShare: 0 } });
    expect(level.engineCase.run.stops).toBeUndefined();
  });
});

describe('a wind whose direction nobody knows', () => {
  const wind = { windSpeed: '4', windGust: '' };
  const unknownForm = { ...wind, windFrom: '', windDirectionKnown: 'no' };

  it('gives the mean, and adds the spread, of what every direction would have given', () => {
    const each = Array.from({ length: 72 }, (_, step) =>
      Math.log(normalised({ form: { ...wind, windFrom: String(step * 5) } }).normalisedWhPerKm),
    );
    const mean = each.reduce((sum, value) => sum + value, 0) / each.length;
    const spread = Math.sqrt(each.reduce((sum, value) => sum + (value - mean) ** 2, 0) / each.length);
    const unknown = normalised({ form: unknownForm });
    expect(Math.log(unknown.normalisedWhPerKm)).toBeCloseTo(mean, 3);
    // The same wind from everywhere at once: all of the uncertainty but that of the direction.
    const snapshot = snapshotOf({ form: unknownForm });
    const { windDirectionKnown: _, ...record } = snapshot.record;
    const { normalisation: variable } = reduceRun(
      { ...snapshot, record: record as typeof snapshot.record },
      ENGINE,
    ).reduction;
    if (variable.outcome !== 'normalised') throw new Error('outside reach');
    expect(variable.normalisedWhPerKm).toBeCloseTo(unknown.normalisedWhPerKm, 10);
    const added = Math.sqrt(unknown.uWhPerKm ** 2 - variable.uWhPerKm ** 2) / unknown.normalisedWhPerKm;
    // The direction's own 15° blur each of the 72; to first order the rest is the same.
    expect(added / spread).toBeGreaterThan(0.95);
    expect(added / spread).toBeLessThan(1.15);
    expect(unknown.correlations).toHaveLength(1);
  });
});
