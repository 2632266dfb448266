import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { normaliseRun } from '@/lib/physics/normalise';
import {
  altimeterSettingPa,
  CENTRAL_NATURE,
  consumptionWhPerKm,
  moistAirDensityKgM3,
  referenceWhPerKm,
  saturationPressurePa,
  stationPressurePa,
  steadily,
  windAlongRoute,
  windOfLeg,
} from '@/prisma/demo/world/forwardModel';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { LOOPS } from '@/prisma/demo/world/loops';

const world = generateDemoWorld({ seed: 20_261_031 });

/** Independent normalisation cases of equations A2 to A5, computed in Python; see the file's own `what`. */
const casesSchema = z.object({
  cases: z.array(
    z.object({
      name: z.string(),
      vehicle: z.object({
        m: z.number(),
        CdA: z.number(),
        Crr: z.number(),
        eta: z.number(),
        kappa: z.number(),
      }),
      test: z.object({
        v_kmh: z.number(),
        T: z.number(),
        p: z.number(),
        rh: z.number(),
        w: z.number(),
        c: z.number(),
        dh: z.number(),
        paux: z.number(),
        D: z.number(),
      }),
      rho: z.number(),
      e_test: z.number(),
      e_ref: z.number(),
    }),
  ),
});
const { cases } = casesSchema.parse(
  JSON.parse(readFileSync(resolve(import.meta.dirname, '../../reference/physics/cases.json'), 'utf8')),
);

describe('the demo world’s own physics', () => {
  it.each(cases)(
    'gives the independently computed consumption of case $name',
    ({ vehicle, test, rho, e_test, e_ref }) => {
      const density = moistAirDensityKgM3(test.T, test.p, test.rh);
      // same equations, so only the last digits of floating point may differ
      expect(density).toBeCloseTo(rho, 10);
      const roadLoad = {
        dragAreaM2: vehicle.CdA,
        rollingCoefficient: vehicle.Crr,
        drivetrainEfficiency: vehicle.eta,
        massKg: vehicle.m,
      };
      const consumption = consumptionWhPerKm({
        roadLoad,
        nature: CENTRAL_NATURE,
        pieces: steadily(test.v_kmh / 3.6, test.D),
        standingS: 0,
        airDensityKgM3: density,
        airTemperatureC: test.T,
        wind: { meanHeadwindMps: 0, alongSquareM2S2: test.w ** 2, acrossSquareM2S2: test.c ** 2 },
        netClimbM: test.dh,
        auxiliaryPowerW: test.paux,
      });
      expect(vehicle.kappa).toBe(3);
      expect(consumption).toBeCloseTo(e_test, 8);
      expect(referenceWhPerKm(roadLoad, 110 / 3.6)).toBeCloseTo(e_ref, 8);
    },
  );

  it('knows air: ISO 2533 density at sea level, saturation at 20 °C, altimeter setting at 1000 m', () => {
    // ISO 2533:1975: 1.2250 kg/m³ at 15 °C and 101325 Pa, dry
    expect(moistAirDensityKgM3(15, 101_325, 0)).toBeCloseTo(1.225, 4);
    // IAPWS-IF97: 2339.21 Pa; the Magnus form is good to about 0.3 % there
    expect(Math.abs(saturationPressurePa(20) / 2339.21 - 1)).toBeLessThan(0.003);
    // ISO 2533:1975: 89874.6 Pa at 1000 m
    expect(stationPressurePa(101_325, 1000)).toBeCloseTo(89_874.56, 1);
    expect(altimeterSettingPa(stationPressurePa(102_000, 900), 900)).toBeCloseTo(102_000, 6);
  });

  it('lets a loop cancel the mean wind but not its square', () => {
    for (const loop of LOOPS) {
      const wind = windAlongRoute(loop.bearings, 6, 240, 0);
      expect(Math.abs(wind.meanHeadwindMps)).toBeLessThan(1e-9);
      expect(wind.alongSquareM2S2 + wind.acrossSquareM2S2).toBeCloseTo(36, 9);
    }
  });

  it('draws loops whose legs, bearings and heights agree', () => {
    for (const loop of LOOPS) {
      expect(loop.legs[0].lengthM + loop.legs[1].lengthM).toBeCloseTo(loop.lengthM, 6);
      expect(loop.legs[0].netClimbM + loop.legs[1].netClimbM).toBeCloseTo(loop.netClimbM, 9);
      for (const bearings of [loop.bearings, loop.legs[0].bearings, loop.legs[1].bearings]) {
        expect(bearings.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
      }
      const [first, last] = [loop.elevationProfile[0], loop.elevationProfile.at(-1)];
      expect(last?.distanceM).toBe(loop.lengthM);
      expect(last?.heightM).toBeCloseTo(first?.heightM ?? 0, 6);
      const middle = loop.elevationProfile[(loop.elevationProfile.length - 1) / 2];
      expect((middle?.heightM ?? 0) - (first?.heightM ?? 0)).toBeCloseTo(loop.legs[0].netClimbM, 1);
      const drawnM = loop.outline.reduce((sum, point, index) => {
        const before = loop.outline[index - 1];
        return before === undefined ? sum : sum + Math.hypot(point.x - before.x, point.y - before.y);
      }, 0);
      // the drawing cuts corners and has two carriageways
      expect(Math.abs(drawnM / loop.lengthM - 1)).toBeLessThan(0.01);
    }
  });
});

describe('the truth beside the readings', () => {
  it('is undone by the engine, which sums no forces but means and braking falls', () => {
    const plain = generateDemoWorld({ seed: 20_261_031, truth: { scopes: ['run'] } });
    const scales: number[] = [];
    for (const run of plain.runs.slice(0, 120)) {
      const truth = plain.truth.runs[run.key];
      const loop = plain.loops.find((each) => each.key === run.loopKey);
      const setup = plain.models.flatMap((model) => model.setups).find((each) => each.key === run.setupKey);
      if (truth === undefined || loop === undefined || setup === undefined) throw new Error(run.key);
      const { conditions, legs } = truth;
      const station = {
        windMps: conditions.wind10mMps,
        windFromDeg: conditions.windFromDeg,
        gustMps: conditions.gustMps,
      };
      const wind = windOfLeg(loop.bearings, loop.bearings, station, conditions.wind);
      const pieces = legs.flatMap((leg) => leg.pieces);
      const meanSquare =
        pieces.reduce((sum, each) => sum + (each.lengthM * (each.fromMps ** 2 + each.toMps ** 2)) / 2, 0) /
        loop.trueLengthM;
      const result = normaliseRun({
        vehicle: { ...setup.truth, yawDragPerRad2: 3 },
        run: {
          distanceM: loop.trueLengthM,
          energyWh: (truth.modelWhPerKm * loop.trueLengthM) / 1000,
          durationS: truth.durationS,
          cruiseSpeedMps: truth.cruiseSpeedMps,
          meanSquareSpeedM2S2: meanSquare,
          airTemperatureC: conditions.temperatureC,
          airDensityKgM3: conditions.airDensityKgM3,
          alongWindMps: Math.sqrt(wind.alongSquareM2S2),
          crossWindMps: Math.sqrt(wind.acrossSquareM2S2),
          netClimbM: 0,
          auxiliaryPowerW: truth.auxiliaryPowerW,
          stops: pieces
            .filter((each) => each.toMps < each.fromMps)
            .map(({ fromMps, toMps, lengthM }) => ({ fromMps, toMps, distanceM: lengthM })),
        },
        reference: { cruiseSpeedMps: truth.cruiseSpeedMps },
      });
      if (result.outcome !== 'normalised') throw new Error(`${run.key} is outside the method’s reach`);
      scales.push(result.scale);
    }
    // wind in the braking force, warm-up of tyres: some tenths of a per cent each way, and no bias
    const n = scales.length;
    const mean = scales.reduce((sum, scale) => sum + scale, 0) / n;
    const sd = Math.sqrt(scales.reduce((sum, scale) => sum + (scale - mean) ** 2, 0) / (n - 1));
    expect(sd).toBeLessThan(0.003);
    // 99.9 % of a normal mean lies within 3.29 standard errors, of the largest of 120 within 4.5 standard deviations
    expect(Math.abs(mean - 1)).toBeLessThan((3.29 * sd) / Math.sqrt(n));
    for (const scale of scales) expect(Math.abs(scale - 1)).toBeLessThan(4.5 * sd);
  });

  it('holds what the forms round: distance and energy come back within the display’s last digit', () => {
    for (const run of world.runs) {
      const truth = world.truth.runs[run.key];
      const revision = run.revisions.at(-1);
      if (truth === undefined || revision === undefined || revision.fault !== undefined) continue;
      expect(
        Math.abs(Number(revision.form.tripEnergy) - (truth.energyWh * (1 + truth.shownShare)) / 1000),
      ).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  it('scatters as it says', () => {
    const spreadOf = (values: number[]) =>
      Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
    const { spread, carLogEffect, sessionLogEffect, runs } = world.truth;
    const sessions = Object.values(sessionLogEffect);
    // the standard deviation of n normal draws is known to ± 1/√(2n); 99.9 % of a normal lies within 3.29 of those
    const tolerance = (n: number) => 3.29 / Math.sqrt(2 * n);
    const cars = Object.values(carLogEffect);
    expect(Math.abs(spreadOf(cars) / spread.car - 1)).toBeLessThan(tolerance(cars.length));
    expect(Math.abs(spreadOf(sessions) / spread.session - 1)).toBeLessThan(tolerance(sessions.length));
    const residuals = world.runs.flatMap((run) => {
      const truth = runs[run.key];
      const isPlain = run.revisions.every(
        (revision) => revision.fault === undefined && revision.form.traffic === 'free',
      );
      if (truth === undefined || !isPlain || run.revisions.length === 0) return [];
      return [truth.logEffect - (carLogEffect[run.carKey] ?? 0) - (sessionLogEffect[run.sessionKey] ?? 0)];
    });
    expect(Math.abs(spreadOf(residuals) / spread.repeatability - 1)).toBeLessThan(
      tolerance(residuals.length),
    );
  });

  it('says what each factor does, against the model’s baseline', () => {
    for (const model of world.models) {
      const [baseline] = model.setups;
      for (const setup of model.setups) {
        const own = world.truth.referenceWhPerKm[setup.key]?.['kmh-110'] ?? Number.NaN;
        const base = world.truth.referenceWhPerKm[baseline?.key ?? '']?.['kmh-110'] ?? Number.NaN;
        expect(world.truth.factorLogEffect[setup.key]?.['kmh-110']).toBeCloseTo(Math.log(own / base), 12);
      }
    }
    // a setup that only differs in the cabin's climate costs nothing at reference conditions: its power is swapped out
    expect(world.truth.factorLogEffect['godwit/climate-off']?.['kmh-110']).toBeCloseTo(0, 12);
    // the roof box: 21 % more drag area and 22 kg
    const roofBox = world.truth.factorLogEffect['pipit/roof-box']?.['kmh-110'] ?? Number.NaN;
    expect(roofBox).toBeGreaterThan(0.12);
    expect(roofBox).toBeLessThan(0.15);
  });
});
