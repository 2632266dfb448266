import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import {
  judgeScale,
  METHOD_VERSION,
  type NormalisedRun,
  normaliseRun,
  STEP_NAMES,
} from '@/lib/physics/normalise';
import { exampleCase } from './exampleCase';

function normalised(input: NormalisationCase): NormalisedRun {
  const result = normaliseRun(input);
  if (result.outcome !== 'normalised') throw new Error(result.reach.reasons.map((r) => r.message).join(' '));
  return result;
}

const withRun = (changes: Partial<NormalisationCase['run']>): NormalisationCase => {
  const base = exampleCase();
  return { ...base, run: { ...base.run, ...changes } };
};

/** A run at reference conditions in every respect. */
function atReference(energyWh = 16_000): NormalisationCase {
  const speed = 110 / 3.6;
  return {
    ...exampleCase(),
    run: {
      distanceM: 100_000,
      energyWh,
      durationS: 100_000 / speed,
      cruiseSpeedMps: speed,
      airTemperatureC: 20,
      airDensityKgM3: 1.189,
      alongWindMps: 0,
      crossWindMps: 0,
      netClimbM: 0,
      auxiliaryPowerW: 500,
    },
  };
}

const conditions = fc.record({
  airTemperatureC: fc.double({ min: -19, max: 44, noNaN: true }),
  pressurePa: fc.double({ min: 75_000, max: 105_000, noNaN: true }),
  relativeHumidity: fc.double({ min: 0, max: 1, noNaN: true }),
  alongWindMps: fc.double({ min: -5, max: 5, noNaN: true }),
  crossWindMps: fc.double({ min: -5, max: 5, noNaN: true }),
  netClimbM: fc.double({ min: -100, max: 100, noNaN: true }),
  auxiliaryPowerW: fc.double({ min: 0, max: 4000, noNaN: true }),
  stops: fc.integer({ min: 0, max: 4 }),
  cruiseSpeedMps: fc.double({ min: 28, max: 33, noNaN: true }),
  energyWh: fc.double({ min: 15_000, max: 30_000, noNaN: true }),
});

describe('the steps', () => {
  it('come in the documented order and sum to normalised − measured, whatever the conditions', () => {
    fc.assert(
      fc.property(conditions, (changes) => {
        const result = normalised(withRun(changes));
        expect(result.steps.map((step) => step.name)).toEqual([...STEP_NAMES]);
        const sum = result.steps.reduce((total, step) => total + step.deltaWhPerKm, 0);
        expect(Math.abs(result.measuredWhPerKm + sum - result.normalisedWhPerKm)).toBeLessThan(
          1e-12 * result.measuredWhPerKm,
        );
        const product = result.steps.reduce((total, step) => total * step.factor, 1);
        expect(product).toBeCloseTo(result.normalisedWhPerKm / result.measuredWhPerKm, 10);
      }),
    );
  });

  it('are all zero for a run at reference conditions', () => {
    fc.assert(
      fc.property(fc.double({ min: 10_000, max: 30_000, noNaN: true }), (energyWh) => {
        const result = normalised(atReference(energyWh));
        for (const step of result.steps) expect(Math.abs(step.deltaWhPerKm)).toBeLessThan(1e-10);
        expect(result.normalisedWhPerKm).toBeCloseTo(result.measuredWhPerKm, 9);
      }),
    );
  });

  it('take net climb of zero as no step: no first-order elevation term (common practice, no source)', () => {
    const result = normalised(withRun({ netClimbM: 0 }));
    expect(result.steps.find((step) => step.name === 'elevation')?.deltaWhPerKm).toBeCloseTo(0, 12);
  });
});

describe('invariants', () => {
  it('reversing either wind component changes nothing', () => {
    fc.assert(
      fc.property(conditions, (changes) => {
        const there = normalised(withRun(changes));
        const back = normalised(
          withRun({ ...changes, alongWindMps: -changes.alongWindMps, crossWindMps: -changes.crossWindMps }),
        );
        expect(back.normalisedWhPerKm).toBeCloseTo(there.normalisedWhPerKm, 9);
        expect(back.uWhPerKm).toBeCloseTo(there.uWhPerKm, 9);
      }),
    );
  });

  it('energy, distance, time, climb and stops doubled together give the same consumption', () => {
    fc.assert(
      fc.property(conditions, (changes) => {
        const base = withRun(changes).run;
        const once = normalised(withRun(changes));
        const twice = normalised(
          withRun({
            ...changes,
            energyWh: base.energyWh * 2,
            distanceM: base.distanceM * 2,
            durationS: base.durationS * 2,
            netClimbM: base.netClimbM * 2,
            stops: changes.stops * 2,
          }),
        );
        expect(twice.normalisedWhPerKm).toBeCloseTo(once.normalisedWhPerKm, 8);
        expect(twice.scale).toBeCloseTo(once.scale, 10);
      }),
    );
  });

  it('mass, drag area and rolling scaled together leave drag and rolling in proportion: only the scale moves', () => {
    fc.assert(
      fc.property(conditions, fc.double({ min: 0.7, max: 1.4, noNaN: true }), (changes, factor) => {
        const flat = withRun({ ...changes, netClimbM: 0, stops: 0 });
        const before = normalised(flat);
        const scaled = normalised({
          ...flat,
          vehicle: {
            ...flat.vehicle,
            dragAreaM2: (flat.vehicle.dragAreaM2 ?? 0) * factor,
            rollingCoefficient: (flat.vehicle.rollingCoefficient ?? 0) * factor,
          },
        });
        expect(scaled.normalisedWhPerKm).toBeCloseTo(before.normalisedWhPerKm, 8);
        expect(scaled.scale * factor).toBeCloseTo(before.scale, 9);
      }),
    );
  });

  it('for the same energy, each condition that costs more lowers the normalised value', () => {
    fc.assert(
      fc.property(conditions, (changes) => {
        const base = normalised(withRun(changes)).normalisedWhPerKm;
        const worse: Partial<NormalisationCase['run']>[] = [
          { auxiliaryPowerW: changes.auxiliaryPowerW + 100 },
          { netClimbM: changes.netClimbM + 5 },
          { stops: changes.stops + 1 },
          { alongWindMps: Math.abs(changes.alongWindMps) + 0.5 },
          { crossWindMps: Math.abs(changes.crossWindMps) + 0.5 },
          { pressurePa: changes.pressurePa + 500 },
          { airTemperatureC: changes.airTemperatureC - 1 },
          { cruiseSpeedMps: changes.cruiseSpeedMps + 0.2 },
        ];
        for (const change of worse) {
          expect(normalised(withRun({ ...changes, ...change })).normalisedWhPerKm).toBeLessThan(base);
        }
        expect(
          normalised(withRun({ ...changes, energyWh: changes.energyWh + 100 })).normalisedWhPerKm,
        ).toBeGreaterThan(base);
      }),
    );
  });

  it('does not depend on the order of calls', () => {
    const first = normaliseRun(exampleCase());
    normaliseRun(withRun({ airTemperatureC: -10 }));
    expect(normaliseRun(exampleCase())).toEqual(first);
  });
});

describe('consumption follows cruise speed, not mean speed', () => {
  it('normalising a 107 km loop at 113 km/h from its mean of 106 would misplace it by about 7 % (method A5)', () => {
    const loop = {
      distanceM: 107_000,
      durationS: 107_000 / (106 / 3.6),
      cruiseSpeedMps: 113 / 3.6,
      offCruiseShare: 0.08,
      stops: 0,
      energyWh: 19_000,
    };
    const right = normalised({ ...withRun(loop), reference: { cruiseSpeedMps: 113 / 3.6 } });
    const wrong = normalised({
      ...withRun({ ...loop, cruiseSpeedMps: 106 / 3.6, offCruiseShare: 0 }),
      reference: { cruiseSpeedMps: 113 / 3.6 },
    });
    expect(wrong.normalisedWhPerKm / right.normalisedWhPerKm - 1).toBeGreaterThan(0.04);
    expect(wrong.normalisedWhPerKm / right.normalisedWhPerKm - 1).toBeLessThan(0.1);
  });
});

describe('the budget', () => {
  it('has one line an input, largest first, whose squares sum to the variance and split by scope', () => {
    const result = normalised(exampleCase());
    const sizes = result.budget.map((entry) => entry.contributionWhPerKm);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(new Set(result.budget.map((entry) => entry.input)).size).toBe(result.budget.length);
    const variance = sizes.reduce((total, size) => total + size * size, 0);
    expect(variance).toBeCloseTo(result.uWhPerKm ** 2, 10);
    const byScope = Object.values(result.uByScope).reduce((total, u) => total + u * u, 0);
    expect(byScope).toBeCloseTo(result.uWhPerKm ** 2, 10);
    expect(result.budget.reduce((total, entry) => total + entry.shareOfVariance, 0)).toBeCloseTo(1, 10);
    expect(result.relativeUncertainty).toBeCloseTo(result.uWhPerKm / result.normalisedWhPerKm, 12);
    expect(result.methodVersion).toBe(METHOD_VERSION);
  });

  it('has analytic sensitivities where they are known: energy s·…/e and auxiliary power', () => {
    // at reference conditions e_ref = e_meas − (P − 500)·t/D, so ∂/∂E = 1000/D and ∂/∂P = −t/(3.6 D)
    const result = normalised(atReference());
    const sensitivity = (name: string) => result.budget.find((entry) => entry.input === name)?.sensitivity;
    expect(sensitivity('energyWh')).toBeCloseTo(0.01, 8);
    expect(sensitivity('auxiliaryPowerW')).toBeCloseTo(-1 / 110, 8);
    // the road load is scaled to the measurement: its own parameters do not matter at reference
    expect(sensitivity('dragAreaM2')).toBeCloseTo(0, 6);
    expect(sensitivity('rollingCoefficient')).toBeCloseTo(0, 5);
  });

  it('takes what is stated instead of the priors: all zero but one', () => {
    const base = exampleCase();
    const names = normalised(base).budget.map((entry) => entry.input);
    const none = Object.fromEntries(names.map((name) => [name, { u: 0 }]));
    const only = normalised({ ...base, uncertainty: { ...none, energyWh: { u: 170, dof: 5 } } });
    expect(only.budget.map((entry) => entry.input)).toEqual(['energyWh']);
    // E·∂e/∂E is e less what does not scale, so between the two: 1 % of energy is about 1 % of the result
    expect(only.relativeUncertainty).toBeGreaterThan(0.0095);
    expect(only.relativeUncertainty).toBeLessThan(0.0115);
    expect(only.effectiveDof).toBeCloseTo(5, 9);
    // t_0.975(5) = 2.571 (JCGM 100:2008, table G.2)
    expect((only.interval95[1] - only.normalisedWhPerKm) / only.uWhPerKm).toBeCloseTo(2.571, 3);
    expect(only.uByScope).toEqual({ run: only.uWhPerKm, session: 0, car: 0, model: 0, method: 0 });
  });

  it('turns a half-width into a standard uncertainty and takes a stated scope', () => {
    const result = normalised({
      ...exampleCase(),
      uncertainty: { energyWh: { halfWidth: 50, distribution: 'rectangular', scope: 'car' } },
    });
    const entry = result.budget.find((candidate) => candidate.input === 'energyWh');
    expect(entry).toMatchObject({
      u: 50 / Math.sqrt(3),
      distribution: 'rectangular',
      scope: 'car',
      dof: null,
    });
  });

  it('sees wind on a calm day, by its second order', () => {
    const calm = (u: number) =>
      normalised({ ...atReference(), uncertainty: { crossWindMps: { u }, alongWindMps: { u: 0 } } });
    const entry = calm(1).budget.find((candidate) => candidate.input === 'crossWindMps');
    expect(entry?.sensitivity).toBeCloseTo(0, 9);
    // f = k·c² with k·u² of the aero part: −s·½ρCdA(1+κ)u²/(3.6 η) over total × …; √3·k·u² expected
    const model = atReference();
    const reference = normalised(model);
    const shiftOf = (c: number) =>
      normalised({ ...model, run: { ...model.run, crossWindMps: c } }).normalisedWhPerKm -
      reference.normalisedWhPerKm;
    // shift for a small wind, scaled to 1 m/s, free of the quartic part
    const k = shiftOf(0.01) / 0.01 ** 2;
    expect(entry?.contributionWhPerKm).toBeCloseTo(Math.sqrt(3) * Math.abs(k), 3);
    expect(calm(2).uWhPerKm).toBeGreaterThan(calm(1).uWhPerKm);
  });

  it('honours stated correlations between inputs', () => {
    const base = exampleCase();
    const independent = normalised(base);
    const contribution = (name: string) => {
      const entry = independent.budget.find((candidate) => candidate.input === name);
      return (entry?.sensitivity ?? 0) * (entry?.u ?? 0);
    };
    const together = normalised({
      ...base,
      correlations: [{ inputs: ['dragAreaM2', 'rollingCoefficient'], coefficient: -0.8 }],
    });
    const expected =
      independent.uWhPerKm ** 2 + 2 * -0.8 * contribution('dragAreaM2') * contribution('rollingCoefficient');
    expect(together.uWhPerKm ** 2).toBeCloseTo(expected, 8);
    expect(together.uWhPerKm).not.toBeCloseTo(independent.uWhPerKm, 4);
  });

  it('honours them in the uncertainty of each step as well', () => {
    const base = exampleCase();
    const correlate = (coefficient: number) =>
      normalised({
        ...base,
        correlations: [{ inputs: ['dragAreaM2', 'rollingCoefficient'], coefficient }],
      });
    const used = (name: string) => {
      const entry = correlate(0).budget.find(({ input }) => input === name);
      return { value: entry?.value ?? 0, u: entry?.u ?? 0 };
    };
    const [drag, rolling] = [used('dragAreaM2'), used('rollingCoefficient')];
    const deltas = (dragAreaM2: number, rollingCoefficient: number) =>
      normalised({ ...base, vehicle: { ...base.vehicle, dragAreaM2, rollingCoefficient } }).steps.map(
        ({ deltaWhPerKm }) => deltaWhPerKm,
      );
    const h = 1e-4;
    const slopes = (up: number[], down: number[], step: number) =>
      up.map((value, i) => (value - (down[i] ?? 0)) / (2 * step));
    const byDrag = slopes(deltas(drag.value + h, rolling.value), deltas(drag.value - h, rolling.value), h);
    const byRolling = slopes(
      deltas(drag.value, rolling.value * (1 + h)),
      deltas(drag.value, rolling.value * (1 - h)),
      rolling.value * h,
    );
    correlate(-0.8).steps.forEach(({ uWhPerKm }, i) => {
      // JCGM 100:2008, equation 16: the covariance term 2·c_i·c_j·u_i·u_j·r
      const term = 2 * -0.8 * (byDrag[i] ?? 0) * drag.u * (byRolling[i] ?? 0) * rolling.u;
      expect(uWhPerKm ** 2).toBeCloseTo((correlate(0).steps[i]?.uWhPerKm ?? 0) ** 2 + term, 6);
    });
    const wind = (coefficient: number) =>
      correlate(coefficient).steps.find(({ name }) => name === 'wind')?.uWhPerKm;
    expect(wind(-0.8)).not.toBeCloseTo(wind(0) ?? 0, 4);
  });

  it('widens in dense traffic, in the cold and with an unverified speed', () => {
    const u = (changes: Partial<NormalisationCase['run']>) => normalised(withRun(changes)).uWhPerKm;
    expect(u({ conditions: { traffic: 'dense' } })).toBeGreaterThan(
      u({ conditions: { traffic: 'moderate' } }),
    );
    expect(u({ conditions: { traffic: 'moderate' } })).toBeGreaterThan(
      u({ conditions: { traffic: 'free' } }),
    );
    expect(u({ airTemperatureC: 4.9 })).toBeGreaterThan(u({ airTemperatureC: 5.1 }));
  });
});

describe('the scale', () => {
  it('is a caution outside 0.75 to 1.35 and a fail outside 0.5 to 2', () => {
    expect(judgeScale(0.76)).toBeNull();
    expect(judgeScale(1.34)).toBeNull();
    expect(judgeScale(0.74)?.level).toBe('caution');
    expect(judgeScale(1.36)?.level).toBe('caution');
    expect(judgeScale(0.49)?.level).toBe('fail');
    expect(judgeScale(2.01)?.level).toBe('fail');
    expect(normalised(withRun({ energyWh: 40_000 })).scaleFinding?.level).toBe('fail');
  });
});

describe('the car', () => {
  it('may be given by body class and tyre kind, and its own values override', () => {
    const base = exampleCase();
    const byClass = normalised({
      ...base,
      vehicle: { massKg: 2000, bodyClass: 'hatch', tyreKind: 'road' },
    });
    const stated = normalised(base);
    // the hatch prior is 0.60 m² and the road tyre's 0.0090
    expect(byClass.normalisedWhPerKm).toBeCloseTo(stated.normalisedWhPerKm, 9);
    const van = normalised({ ...base, vehicle: { ...base.vehicle, bodyClass: 'van' } });
    expect(van.normalisedWhPerKm).toBe(stated.normalisedWhPerKm);
  });

  it('may be given by coast-down coefficients, which override both', () => {
    const base = exampleCase();
    const g = 9.80665;
    const coastDown = {
      f0N: 0.009 * 2000 * g,
      f1NPerKmh: 0,
      // ½·ρ0·CdA/3.6²
      f2NPerKmh2: (0.5 * 1.189 * 0.6) / 3.6 ** 2,
    };
    const own = normalised({ ...base, vehicle: { massKg: 2000, coastDown } });
    expect(own.normalisedWhPerKm).toBeCloseTo(normalised(base).normalisedWhPerKm, 9);
    const linear = normalised({
      ...base,
      vehicle: { massKg: 2000, coastDown: { ...coastDown, f1NPerKmh: 0.5 } },
    });
    expect(linear.scale).toBeLessThan(own.scale);
  });

  it('may have its auxiliary power guessed from the climate setting, with a wider uncertainty', () => {
    const { auxiliaryPowerW: _, ...run } = exampleCase().run;
    const guessed = normalised({ ...exampleCase(), run: { ...run, climate: 'heating' } });
    const stated = normalised(exampleCase());
    expect(guessed.uWhPerKm).toBeGreaterThan(stated.uWhPerKm);
    const heatPump = normalised({ ...exampleCase(), run: { ...run, climate: 'heating', hasHeatPump: true } });
    expect(heatPump.normalisedWhPerKm).toBeGreaterThan(guessed.normalisedWhPerKm);
  });
});
