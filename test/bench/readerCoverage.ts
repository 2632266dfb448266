import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { coverageFactor95 } from '@/lib/numerics/studentT';
import { conditionsAsked } from '@/lib/physics/estimate/conditionsAsked';
import { consumptionAt } from '@/lib/physics/estimate/consumptionAt';
import { rangeOf } from '@/lib/physics/estimate/range';
import { readerAnswer } from '@/lib/reduction/readerAnswer';
import { readerParts } from '@/lib/reduction/runParts';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseEstimate } from '@/lib/run/estimate/parseEstimate';
import type { FitRow } from '@/lib/stats/fitRow';
import type { GroupFit } from '@/lib/stats/groupFit';
import { readerVariance } from '@/lib/stats/readerEstimate';
import { drawnNature } from '@/prisma/demo/world/drawnTruth';
import {
  consumptionWhPerKm,
  moistAirDensityKgM3,
  steadily,
  windAlongRoute,
} from '@/prisma/demo/world/forwardModel';
import { PriorDraws } from '@/prisma/demo/world/priorDraws';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { fitRows, type ReducedRun } from '../lib/demo/reduceWorld';
import { fitWorld, redraw, trueLog } from './demoCoverage';

/** Whether an interval held, and whether one of six tenths its width would have. */
export interface Held {
  whole: boolean;
  narrow: boolean;
}
const NARROW = 0.6;
const CLASS_KEY = 'kmh-110';
const CLASS_MPS = cruiseClassByKey(CLASS_KEY)?.speedMps ?? Number.NaN;
const CAPACITY_WH = 80_000;

const heldBy = (error: number, u: number, df: number): Held => ({
  whole: Math.abs(error) <= coverageFactor95(df) * u,
  narrow: Math.abs(error) <= NARROW * coverageFactor95(df) * u,
});

/** Runs of the class, good and approved, of a world that was reduced. */
export function rowsOf(reduced: readonly ReducedRun[]): FitRow[] {
  return fitRows(reduced, CLASS_KEY);
}

function fitOf(rows: readonly FitRow[]): GroupFit {
  const fit = fitWorld(new Map([[CLASS_KEY, rows]]), { draws: 50 }).get(CLASS_KEY);
  if (fit === undefined) throw new Error('nothing was fitted');
  return fit;
}

/** Setups that a further car can be answered for. */
const known = (fit: GroupFit) =>
  fit.estimates.filter(({ interval95, df }) => interval95 !== null && df !== null);

function pick<Item>(items: readonly Item[], random: Random): Item {
  const item = items[Math.floor(random.next() * items.length)];
  if (item === undefined) throw new Error('nothing to pick from');
  return item;
}

interface Drawn {
  form: Record<string, string>;
  speedMps: number;
  temperatureC: number;
  windMps: number;
  climbM: number;
}

/** A trip such as readers ask about, well within reach. */
function drawConditions(random: Random): Drawn {
  const between = (low: number, high: number) => low + (high - low) * random.next();
  const [temperatureC, windMps, climbM] = [between(-10, 35), between(0, 5), between(-150, 300)];
  return {
    temperatureC,
    windMps,
    climbM,
    speedMps: CLASS_MPS + between(-2, 2),
    form: {
      air: temperatureC.toFixed(3),
      windSpeed: windMps.toFixed(3),
      windFrom: pick(['ahead', 'behind', 'side'], random),
      climb: climbM.toFixed(3),
      trip: '200',
    },
  };
}

function asked(form: Record<string, string>) {
  const parsed = parseEstimate(form);
  if (!parsed.ok) throw new Error(parsed.issues.map(({ what }) => what).join(' '));
  return parsed.asked;
}

const subjectOf = (reduced: readonly ReducedRun[], setupKey: string) => {
  const found = reduced.find(({ run }) => run.setupKey === setupKey)?.reduction.snapshot;
  if (found === undefined) throw new Error(`no run of ${setupKey}`);
  return found;
};

/**
 * The world's runs drawn anew, and one further car's trip in each: everything that the answer says it does not know is
 * drawn, what stands behind runs and conditions alike once for both. The consumption and the range of the trip.
 */
export function judgeTrips(
  world: DemoWorld,
  reduced: readonly ReducedRun[],
  replicates: number,
  seed: number,
): { consumption: Held; range: Held }[] {
  const random = createRandom(seed);
  const normal = () => drawNormal(random);
  const rows = new Map([[CLASS_KEY, rowsOf(reduced)]]);
  const { car, session, repeatability } = world.truth.spread;
  return Array.from({ length: replicates }, () => {
    const drawn = new Map<string, number>();
    const fit = fitOf(redraw(world, rows, random, { spreads: 'own', drawn }).get(CLASS_KEY) ?? []);
    const { setup, beta } = pick(known(fit), random);
    const { form, speedMps } = drawConditions(random);
    const subject = subjectOf(reduced, setup);
    const conditions = conditionsAsked(asked(form), speedMps, subject.model.hasHeatPump);
    const answer = (logMean: number) => {
      const of = { subject, learned: undefined, logMean, classSpeedMps: CLASS_MPS };
      const found = readerAnswer(of, conditions, subject.record.readings.loadMass?.value);
      if (found.refusal !== null) throw new Error(JSON.stringify(found.refusal.nearest));
      return found;
    };
    const found = answer(beta);
    const truly = answer(trueLog(world, setup, CLASS_KEY));
    const deviation = car * normal() + session * normal() + repeatability * normal();
    const errors = truly.term.direct.reduce((sum, { scope, key, contribution }) => {
      const isOwn = scope === 'car' || scope === 'session';
      return sum + contribution * ((isOwn ? undefined : drawn.get(`${scope} ${key}`)) ?? normal());
    }, 0);
    const trueTripLog = Math.log(truly.valueWhPerKm) + truly.term.gain * deviation - errors;
    const { u, df } = readerVariance(fit, [{ weight: 1, answer: found.term }], true);
    const log = Math.log(found.valueWhPerKm);
    const charge = {
      battery: { basis: 'new', capacityWh: CAPACITY_WH } as const,
      fromCharge: 0.9,
      toCharge: 0.1,
      batteryTemperatureC: conditions.airTemperatureC,
    };
    const range = rangeOf({ log, u, df }, charge);
    // as the priors of an estimate have it: 0.95 ± 0.03 of new, 0.3 ± 0.2 % a kelvin below 10 °C
    const lost = (0.003 + 0.002 * normal()) * Math.max(0, 10 - conditions.airTemperatureC);
    const trueWh = CAPACITY_WH * (0.95 + 0.03 * normal()) * 0.8 * (1 - lost);
    const rangeError = Math.log(range.rangeM / ((1000 * trueWh) / Math.exp(trueTripLog)));
    return {
      consumption: heldBy(log - trueTripLog, u, df),
      range: heldBy(rangeError, range.relativeU, range.effectiveDof),
    };
  });
}

/** One run of each car, foretold at its own conditions from the fit without that car, against what it measured. */
export function judgeOwnConditions(reduced: readonly ReducedRun[]): Held[] {
  const rows = rowsOf(reduced);
  return [...new Set(rows.map(({ car }) => car))].flatMap((car) => {
    const fit = fitOf(rows.filter((row) => row.car !== car));
    const setups = new Map(known(fit).map((estimate) => [estimate.setup, estimate]));
    const row = rows.find((one) => one.car === car && setups.has(one.setup));
    const driven = reduced.find(
      ({ run, revision }) => run.key === row?.runId && revision.review?.kind === 'approve',
    );
    const estimate = row && setups.get(row.setup);
    if (row === undefined || driven === undefined || estimate === undefined) return [];
    const { engineCase, result } = driven.reduction;
    if (result.outcome !== 'normalised') return [];
    const at = consumptionAt(engineCase, Math.exp(estimate.beta), 'shown');
    const owners = {
      sessionId: row.session,
      carId: row.car,
      loopId: row.loop ?? '',
      modelId: row.setup.split('/')[0] ?? '',
      setupId: row.setup,
    };
    const term = {
      setup: row.setup,
      gain: at.gain,
      direct: readerParts(owners, at, true).map(({ input, key, ...part }) => ({
        ...part,
        key: `${input} of ${key}`,
      })),
      car: row.car,
    };
    const { u, df } = readerVariance(fit, [{ weight: 1, answer: term }], true);
    // what was read of the energy is the run's, and no part of what was foretold
    const uRead = (engineCase.uncertainty?.energyWh?.u ?? 0) / engineCase.run.energyWh;
    return [heldBy(Math.log(at.valueWhPerKm / result.measuredWhPerKm), Math.hypot(u, uRead), df)];
  });
}

/** A further car of each model under other conditions, driven by the demo world's own physics from its own truth. */
export function judgeByPhysics(world: DemoWorld, reduced: readonly ReducedRun[], seed: number): Held[] {
  const random = createRandom(seed);
  const normal = () => drawNormal(random);
  const fit = fitOf(rowsOf(reduced));
  const draws = new PriorDraws(world.seed);
  const { car, session, repeatability } = world.truth.spread;
  return world.models.flatMap((model) => {
    const own = known(fit).filter(({ setup }) => setup.startsWith(`${model.key}/`));
    if (own.length === 0) return [];
    const { setup: setupKey, beta } = pick(own, random);
    const truth = model.setups.find(({ key }) => key === setupKey);
    if (truth === undefined) return [];
    const { form, speedMps, temperatureC, windMps, climbM } = drawConditions(random);
    const conditions = conditionsAsked(asked(form), speedMps, model.hasHeatPump);
    const of = {
      subject: subjectOf(reduced, setupKey),
      learned: undefined,
      logMean: beta,
      classSpeedMps: CLASS_MPS,
    };
    const found = readerAnswer(of, conditions, truth.loadKg);
    if (found.refusal !== null) return [];
    // at the height of the car, with the road's own shelter (method A4)
    const share = 0.66 + 0.1 * (2 * random.next() - 1);
    const atCar = share * windMps * (1 + 0.3 * normal());
    const trueWhPerKm = consumptionWhPerKm({
      roadLoad: truth.truth,
      nature: drawnNature(draws, temperatureC),
      pieces: steadily(speedMps, 200_000),
      standingS: 0,
      airDensityKgM3: moistAirDensityKgM3(temperatureC, 100_000, 0),
      airTemperatureC: temperatureC,
      wind: windAlongRoute([{ bearingDeg: 0, share: 1 }], atCar, conditions.wind.fromDeg ?? 0, 0),
      netClimbM: climbM,
      auxiliaryPowerW: 500,
    });
    const trueLogOfTrip =
      Math.log(trueWhPerKm) + car * normal() + session * normal() + repeatability * normal();
    const { u, df } = readerVariance(fit, [{ weight: 1, answer: found.term }], true);
    return [heldBy(Math.log(found.valueWhPerKm) - trueLogOfTrip, u, df)];
  });
}
