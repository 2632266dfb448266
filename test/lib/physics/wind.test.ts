import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BearingShare,
  bearingMoments,
  logLawReduction,
  meanHeadwindMps,
  powerLawReduction,
  varianceOfSquaredCosine,
  windLeftOnLoop,
  windOnLoop,
} from '@/lib/physics/wind';

const outAndBack = (bearingDeg: number): BearingShare[] => [
  { bearingDeg, lengthM: 50_000 },
  { bearingDeg: bearingDeg + 180, lengthM: 50_000 },
];

const anyLeg = fc.array(
  fc.record({
    bearingDeg: fc.double({ min: 0, max: 360, noNaN: true }),
    lengthM: fc.double({ min: 10, max: 20_000, noNaN: true }),
  }),
  { minLength: 1, maxLength: 12 },
);

describe('a 10 m wind at 1 m', () => {
  it('is 0.60 by the log law at z0 = 0.03 m and 0.72 by the 0.14 power law, either side of 0.66', () => {
    // Stull, Meteorology for Scientists and Engineers (from memory): neutral log profile, 1/7 power law
    expect(logLawReduction(1, 0.03)).toBeCloseTo(0.6, 2);
    expect(powerLawReduction(1, 0.14)).toBeCloseTo(0.72, 2);
    expect(logLawReduction(10, 0.03)).toBe(1);
  });
});

describe('headwind over a route', () => {
  it('is full against, none across and negative with the wind', () => {
    const leg = [{ bearingDeg: 90, lengthM: 1000 }];
    expect(bearingMoments(leg, 90).meanCosine).toBeCloseTo(1, 12);
    expect(bearingMoments(leg, 0).meanCosine).toBeCloseTo(0, 12);
    expect(bearingMoments(leg, 270).meanCosine).toBeCloseTo(-1, 12);
    expect(meanHeadwindMps({ speedMps: 10, fromDeg: 90 }, leg).valueMps).toBeCloseTo(6.6, 10);
    expect(meanHeadwindMps({ speedMps: 10, fromDeg: null }, leg).valueMps).toBe(0);
    // exposure 30 %, reduction 0.10/√3 of 0.66, report 0.5 m/s
    expect(meanHeadwindMps({ speedMps: 10, fromDeg: 90 }, leg).uMps).toBeCloseTo(
      // and the direction's 15°, of second order straight against it
      Math.hypot(0.3 * 6.6, (10 * 0.1) / Math.sqrt(3), 0.33, (6.6 * (Math.PI / 12) ** 2) / Math.SQRT2),
      10,
    );
    // of first order across it, and all of it where no direction is known
    const across = meanHeadwindMps({ speedMps: 10, fromDeg: 180 }, leg);
    expect(across.uMps).toBeCloseTo(Math.hypot(0.33, 6.6 * (Math.PI / 12)), 10);
    const unknown = meanHeadwindMps({ speedMps: 10, fromDeg: null }, leg);
    expect(unknown.uMps).toBeGreaterThan(6.6 / Math.SQRT2);
  });

  it('cancels to first order on any out-and-back', () => {
    fc.assert(
      fc.property(anyLeg, fc.double({ min: 0, max: 360, noNaN: true }), (leg, fromDeg) => {
        const loop = [...leg, ...leg.map((part) => ({ ...part, bearingDeg: part.bearingDeg + 180 }))];
        expect(bearingMoments(loop, fromDeg).meanCosine).toBeCloseTo(0, 10);
        const wind = windOnLoop({ speedMps: 8, fromDeg }, loop);
        expect(wind.meanHeadwindMps).toBeCloseTo(0, 9);
      }),
    );
  });

  it('is the same for a loop driven the other way round', () => {
    fc.assert(
      fc.property(anyLeg, fc.double({ min: 0, max: 360, noNaN: true }), (route, fromDeg) => {
        const turned = route.map((part) => ({ ...part, bearingDeg: part.bearingDeg + 180 }));
        const there = windOnLoop({ speedMps: 5, fromDeg }, route);
        const back = windOnLoop({ speedMps: 5, fromDeg }, turned);
        expect(back.alongWindMps).toBeCloseTo(there.alongWindMps, 9);
        expect(back.crossWindMps).toBeCloseTo(there.crossWindMps, 9);
        expect(back.meanHeadwindMps).toBeCloseTo(-there.meanHeadwindMps, 9);
      }),
    );
  });
});

describe('a wind from nobody knows where', () => {
  /** Mean and variance, over directions in steps of a tenth of a degree, of what a known wind would do. */
  function integrated(of: (fromDeg: number) => number): { mean: number; variance: number } {
    const values = Array.from({ length: 3600 }, (_, step) => of(step / 10));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length };
  }
  /** ⟨h²⟩ + (1 + κ)·⟨c²⟩ of a wind of 1 m/s at car height, part by part of the route. */
  function added(route: readonly BearingShare[], fromDeg: number, kappa: number): number {
    const length = route.reduce((sum, { lengthM }) => sum + lengthM, 0);
    return route.reduce((sum, { bearingDeg, lengthM }) => {
      const angle = ((fromDeg - bearingDeg) * Math.PI) / 180;
      return sum + ((Math.cos(angle) ** 2 + (1 + kappa) * Math.sin(angle) ** 2) * lengthM) / length;
    }, 0);
  }

  it('adds to the square of each component what integrating over all directions gives, on any route', () => {
    fc.assert(
      fc.property(anyLeg, (route) => {
        const { variance } = integrated((fromDeg) => bearingMoments(route, fromDeg).meanSquaredCosine);
        expect(varianceOfSquaredCosine(route)).toBeCloseTo(variance, 10);
      }),
      { numRuns: 20 },
    );
  });

  it('is no different where a route has no line of its own, and most on a straight one: R²/8', () => {
    expect(varianceOfSquaredCosine(outAndBack(40))).toBeCloseTo(1 / 8, 12);
    const square = [0, 90, 180, 270].map((bearingDeg) => ({ bearingDeg, lengthM: 1000 }));
    expect(varianceOfSquaredCosine(square)).toBeCloseTo(0, 12);
  });

  it('has the mean and the variance of drag that integrating gives, along and across taken together', () => {
    const route = [...outAndBack(40), ...outAndBack(75)];
    const kappa = 3;
    const report = { speedMps: 6, fromDeg: null };
    const unknown = windOnLoop({ ...report, isDirectionUnknown: true }, route);
    const variable = windOnLoop(report, route);
    const speed = 0.66 * 6;
    const drag = integrated((fromDeg) => added(route, fromDeg, kappa) * speed ** 2);
    const meanOf = ({ alongWindMps: w, crossWindMps: c }: typeof unknown) => w ** 2 + (1 + kappa) * c ** 2;
    const varianceOf = ({
      alongWindMps: w,
      crossWindMps: c,
      uAlongMps,
      uCrossMps,
      correlation,
    }: typeof unknown) => {
      const [a, b] = [2 * w * uAlongMps, (1 + kappa) * 2 * c * uCrossMps];
      return a * a + b * b + 2 * correlation * a * b;
    };
    // The rest of both is what is not known of the wind's strength, the same for the two.
    expect(meanOf(unknown)).toBeCloseTo(meanOf(variable), 10);
    const strength = meanOf(windOnLoop({ speedMps: 0, fromDeg: null }, route));
    const exposed = speed ** 2 * (0.3 ** 2 + (0.1 / Math.sqrt(3) / 0.66) ** 2) * (0.5 + (1 + kappa) * 0.5);
    expect(meanOf(unknown) - strength - exposed).toBeCloseTo(drag.mean, 8);
    expect(varianceOf(unknown) - varianceOf(variable)).toBeCloseTo(drag.variance, 8);
    expect(unknown.correlation).toBeLessThan(0);
    expect(unknown.correlation).toBeGreaterThan(-1);
    expect(variable.correlation).toBe(0);
  });

  it('leaves a wind with a direction, and a variable one, as they were', () => {
    const route = outAndBack(40);
    const known = windOnLoop({ speedMps: 6, fromDeg: 70 }, route);
    expect(windOnLoop({ speedMps: 6, fromDeg: 70, isDirectionUnknown: true }, route)).toEqual(known);
    expect(windOnLoop({ speedMps: 6, fromDeg: null, isDirectionUnknown: false }, route)).toEqual(
      windOnLoop({ speedMps: 6, fromDeg: null }, route),
    );
  });
});

describe('rms wind for the model', () => {
  it('on a calm day still has the expectation of what is not known, E[w²] = u²', () => {
    const calm = windOnLoop({ speedMps: 0, fromDeg: null }, outAndBack(40));
    expect(calm.alongWindMps).toBeCloseTo(0.33, 10);
    expect(calm.crossWindMps).toBeCloseTo(0.33, 10);
    // u(w²) = √2·u² at calm
    expect(2 * calm.alongWindMps * calm.uAlongMps).toBeCloseTo(Math.SQRT2 * 0.33 ** 2, 10);
  });

  it('is mostly along a route into the wind and mostly across one beside it', () => {
    const along = windOnLoop({ speedMps: 6, fromDeg: 40 }, outAndBack(40));
    const across = windOnLoop({ speedMps: 6, fromDeg: 130 }, outAndBack(40));
    expect(along.alongWindMps).toBeGreaterThan(3.5);
    expect(along.crossWindMps).toBeLessThan(1.5);
    expect(across.crossWindMps).toBeCloseTo(along.alongWindMps, 10);
    const variable = windOnLoop({ speedMps: 6, fromDeg: null }, outAndBack(40));
    expect(variable.alongWindMps).toBeCloseTo(variable.crossWindMps, 10);
  });

  it('gains ((gust − mean)/3)², at car height, in both squares', () => {
    const steady = windOnLoop({ speedMps: 6, fromDeg: 10 }, outAndBack(40));
    const gusty = windOnLoop({ speedMps: 6, fromDeg: 10, gustMps: 12 }, outAndBack(40));
    const added = (0.66 * 2) ** 2;
    expect(gusty.alongWindMps ** 2 - steady.alongWindMps ** 2).toBeCloseTo(added, 10);
    expect(gusty.crossWindMps ** 2 - steady.crossWindMps ** 2).toBeCloseTo(added, 10);
  });

  it('takes the log law where the roughness is stated, with less doubt about the reduction', () => {
    const assumed = meanHeadwindMps({ speedMps: 10, fromDeg: 0 }, [{ bearingDeg: 0, lengthM: 1 }]);
    const grass = meanHeadwindMps({ speedMps: 10, fromDeg: 0, roughnessM: 0.03 }, [
      { bearingDeg: 0, lengthM: 1 },
    ]);
    const suburb = windOnLoop({ speedMps: 6, fromDeg: 40, roughnessM: 0.5 }, outAndBack(40));
    expect(grass.valueMps).toBeCloseTo(10 * logLawReduction(1, 0.03), 10);
    expect(grass.uMps).toBeLessThan(assumed.uMps);
    // ln(2)/ln(20) = 0.231 over suburbs
    expect(logLawReduction(1, 0.5)).toBeCloseTo(0.231, 3);
    expect(suburb.alongWindMps).toBeLessThan(
      windOnLoop({ speedMps: 6, fromDeg: 40 }, outAndBack(40)).alongWindMps,
    );
  });

  it('grows with the wind', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        (speedMps, fromDeg) => {
          const less = windOnLoop({ speedMps, fromDeg }, outAndBack(200));
          const more = windOnLoop({ speedMps: speedMps + 1, fromDeg }, outAndBack(200));
          expect(more.alongWindMps).toBeGreaterThan(less.alongWindMps);
          expect(more.crossWindMps).toBeGreaterThan(less.crossWindMps);
        },
      ),
    );
  });
});

describe("'a loop cancels wind'", () => {
  // method A4: at 110 km/h; typical car with aero 62 % of consumption (from the independent cases: N6 and N7)
  const typical = { speedMps: 110 / 3.6, yawDragPerRad2: 3, aeroShare: 0.632 };

  it('leaves 3.9 % of the aero term and 2.4 % of consumption of a 6 m/s along-wind', () => {
    const left = windLeftOnLoop({ ...typical, alongWindMps: 6, crossWindMps: 0 });
    expect(left.ofAero).toBeCloseTo(0.039, 3);
    expect(left.ofConsumption).toBeCloseTo(0.024, 3);
  });

  it('leaves about 15 % of the aero term of a 6 m/s crosswind', () => {
    const left = windLeftOnLoop({ ...typical, alongWindMps: 0, crossWindMps: 6 });
    expect(left.ofAero).toBeCloseTo(0.154, 3);
    // case N7 of the independent set: 15.98 of 178.65 Wh/km
    expect(left.ofConsumption).toBeCloseTo(15.98489804132717 / 178.6518232979754, 2);
  });
});
