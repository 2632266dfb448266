import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { ChoiceValue } from '@/lib/run/fields/table';
import { drawnNature } from './drawnTruth';
import { type Mishap, mishapOf } from './faults';
import { type Drive, durationS, energyWh, windOfLeg } from './forwardModel';
import { batteryTemperatureShare, type PriorDraws, trueAuxiliaryW } from './priorDraws';
import { RandomStream } from './randomStream';
import type { PlannedSession } from './schedule';
import { planDrive, standingS } from './speedPlan';
import type { DemoFault, DemoModel, DemoSetup, TrueConditions, TrueRun } from './types';
import { conditionsAt } from './weather';

/** Standard deviations of ln consumption: between sessions of one car, and between runs of one session. */
export const SESSION_SPREAD = 0.01;
export const REPEATABILITY = 0.008;

export const UTC_OFFSET_MIN = 60;
const HOUR_MS = 3_600_000;

export interface DrivenRun {
  key: string;
  session: PlannedSession;
  model: DemoModel;
  setup: DemoSetup;
  startedAtMs: number;
  truth: TrueRun;
  climate: ChoiceValue<'climate'>;
  traffic: 'free' | 'moderate';
  /** As charge in the battery really was, 0..1. */
  trueChargeStart: number;
  trueChargeEnd: number;
  trueDistanceM: number;
  outboundDurationS: number;
}

/** Drives a planned session from the truth: weather, speed held, energy drawn. */
export function driveSession(
  seed: number,
  draws: PriorDraws,
  session: PlannedSession,
  models: readonly DemoModel[],
  faultOf: (runKey: string) => DemoFault | undefined,
): { runs: DrivenRun[]; sessionLogEffect: number } {
  const model = models.find((candidate) => candidate.key === session.car.modelKey);
  const cruiseClass = cruiseClassByKey(session.cruiseClassKey);
  if (model === undefined || cruiseClass === undefined)
    throw new Error(`unknown words in session ${session.key}`);
  const stream = new RandomStream(seed, `effects ${session.key}`);
  const sessionLogEffect = stream.normal(0, SESSION_SPREAD);
  let hour = session.firstStartHour;
  const runs = session.setupKeys.map((setupKey, index) => {
    const setup = model.setups.find((candidate) => candidate.key === setupKey);
    if (setup === undefined) throw new Error(`no setup ${setupKey}`);
    const startedAtMs =
      Math.floor((session.dateMs + (hour - UTC_OFFSET_MIN / 60) * HOUR_MS) / 60_000) * 60_000;
    const key = `${session.key} ${index + 1}`;
    const run = driveOnce(seed, draws, session, model, setup, cruiseClass.speedMps, {
      key,
      mishap: mishapOf(faultOf(key)),
      hour,
      startedAtMs,
      sessionLogEffect,
    });
    // charging back, a look at the tyres, the change of setup
    hour += run.truth.durationS / 3600 + stream.uniform(0.55, 0.85);
    return run;
  });
  return { runs, sessionLogEffect };
}

interface Slot {
  key: string;
  mishap: Mishap;
  hour: number;
  startedAtMs: number;
  sessionLogEffect: number;
}

function driveOnce(
  seed: number,
  draws: PriorDraws,
  session: PlannedSession,
  model: DemoModel,
  setup: DemoSetup,
  classSpeedMps: number,
  slot: Slot,
): DrivenRun {
  const { loop, car } = session;
  const stream = new RandomStream(seed, `run ${slot.key}`);
  const of = { runKey: slot.key, sessionKey: session.key, carKey: car.key };
  const conditions = conditionsAt(seed, loop, session.dateMs, slot.hour, of, draws);
  const climate = climateOf(setup, conditions);
  const auxiliaryPowerW = trueAuxiliaryW(draws, climate, conditions.temperatureC, model.hasHeatPump, of);
  const cruiseSpeedMps = classSpeedMps + stream.normalWithin(0, 0.3, 0.7) / 3.6 + slot.mishap.cruiseOffsetMps;
  const traffic = stream.chance(0.82) ? 'free' : 'moderate';
  const legs = planDrive(draws, seed, of, loop, cruiseSpeedMps);
  const station = {
    windMps: conditions.wind10mMps,
    windFromDeg: conditions.windFromDeg,
    gustMps: conditions.gustMps,
  };
  const percent = 0.01 / Math.sqrt(3);
  const [outbound, back] = legs.map((leg, k): Drive => {
    const { bearings } = loop.legs[k as 0 | 1];
    return {
      roadLoad: setup.truth,
      nature: drawnNature(draws, conditions.temperatureC),
      pieces: leg.pieces,
      standingS: standingS(leg),
      airDensityKgM3: conditions.airDensityKgM3,
      airTemperatureC: conditions.temperatureC,
      wind: windOfLeg(bearings, loop.bearings, station, conditions.wind),
      netClimbM: loop.trueLegClimbM[k as 0 | 1],
      auxiliaryPowerW,
      wakeShare: traffic === 'free' ? 0 : percent * draws.rectangular('method', 'wake'),
      surfaceShare:
        percent *
        (draws.rectangular('session', `surface ${session.key}`) +
          draws.rectangular('run', `warm-up ${slot.key}`)),
    };
  }) as [Drive, Drive];
  const outboundWh = energyWh(outbound);
  const modelWh = outboundWh + energyWh(back);
  const logEffect =
    car.logEffect + slot.sessionLogEffect + stream.normal(0, REPEATABILITY) + slot.mishap.logEffect;
  const factor = Math.exp(logEffect);
  const trueEnergyWh = modelWh * factor;
  const shownShare =
    batteryTemperatureShare(draws, conditions.temperatureC, session.key) +
    0.007 * (draws.normal('model', `display ${model.key}`) + draws.normal('car', `display ${car.key}`));
  const trueChargeStart = slot.mishap.chargeStart ?? stream.uniform(0.8955, 0.9045);
  return {
    key: slot.key,
    session,
    model,
    setup,
    startedAtMs: slot.startedAtMs,
    truth: {
      conditions,
      cruiseSpeedMps,
      legs,
      durationS: durationS(outbound) + durationS(back),
      auxiliaryPowerW,
      modelWhPerKm: (1000 * modelWh) / loop.trueLengthM,
      logEffect,
      energyWh: trueEnergyWh,
      shownShare,
      outboundEnergyWh: outboundWh * factor,
    },
    climate,
    traffic,
    trueChargeStart,
    trueChargeEnd: trueChargeStart - trueEnergyWh / car.usableCapacityWh,
    trueDistanceM: loop.trueLengthM,
    outboundDurationS: durationS(outbound),
  };
}

function climateOf(setup: DemoSetup, conditions: TrueConditions): ChoiceValue<'climate'> {
  if (setup.climate === 'off') return 'off';
  if (conditions.temperatureC < 3) return 'heating';
  return conditions.temperatureC > 27 ? 'cooling' : 'mild';
}
