import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { ChoiceValue } from '@/lib/run/fields/table';
import { type Mishap, mishapOf } from './faults';
import { consumptionWhPerKm, type Drive, durationS, windAlongRoute } from './forwardModel';
import { RandomStream } from './randomStream';
import type { PlannedSession } from './schedule';
import type { DemoFault, DemoModel, DemoSetup, TrueConditions, TrueRun } from './types';
import { conditionsAt } from './weather';

/** Standard deviations of ln consumption: between sessions of one car, and between runs of one session. */
export const SESSION_SPREAD = 0.01;
export const REPEATABILITY = 0.008;

/** Every loop is entered once and turned round once at low speed. */
export const RAMPS_PER_LEG = 1;

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
  const auxiliaryShare = stream.normalWithin(1, 0.12, 0.3);
  let hour = session.firstStartHour;
  const runs = session.setupKeys.map((setupKey, index) => {
    const setup = model.setups.find((candidate) => candidate.key === setupKey);
    if (setup === undefined) throw new Error(`no setup ${setupKey}`);
    const startedAtMs =
      Math.floor((session.dateMs + (hour - UTC_OFFSET_MIN / 60) * HOUR_MS) / 60_000) * 60_000;
    const key = `${session.key} ${index + 1}`;
    const run = driveOnce(seed, session, model, setup, cruiseClass.speedMps, {
      key,
      mishap: mishapOf(faultOf(key)),
      hour,
      startedAtMs,
      sessionLogEffect,
      auxiliaryShare,
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
  auxiliaryShare: number;
}

function driveOnce(
  seed: number,
  session: PlannedSession,
  model: DemoModel,
  setup: DemoSetup,
  classSpeedMps: number,
  slot: Slot,
): DrivenRun {
  const { loop, car } = session;
  const stream = new RandomStream(seed, `run ${slot.key}`);
  const conditions = conditionsAt(seed, loop, session.dateMs, slot.hour, slot.key);
  const climate = climateOf(setup, conditions);
  const auxiliaryPowerW =
    meanAuxiliaryW(climate, conditions.temperatureC, model.hasHeatPump) * slot.auxiliaryShare;
  const cruiseSpeedMps = classSpeedMps + stream.normalWithin(0, 0.3, 0.7) / 3.6 + slot.mishap.cruiseOffsetMps;
  const offCruiseSpeedMps = stream.uniform(48, 60) / 3.6;
  const traffic = stream.chance(0.82) ? 'free' : 'moderate';
  const wake = traffic === 'free' ? 0 : stream.uniform(-0.006, 0.002);

  const windMps = conditions.wind10mMps * conditions.windAtCarShare;
  const gust = conditions.gustMps;
  const gustSquare =
    gust === undefined ? 0 : (((gust - conditions.wind10mMps) / 3) * conditions.windAtCarShare) ** 2;
  const legM = loop.trueLengthM / 2;
  const [outbound, back] = loop.legs.map(
    (leg): Drive => ({
      roadLoad: setup.truth,
      distanceM: legM,
      cruiseSpeedMps,
      offCruiseShare: loop.offCruiseShare,
      offCruiseSpeedMps,
      rampCount: RAMPS_PER_LEG,
      airDensityKgM3: conditions.airDensityKgM3,
      airTemperatureC: conditions.temperatureC,
      wind: windAlongRoute(leg.bearings, windMps, conditions.windFromDeg, gustSquare),
      netClimbM: leg.netClimbM,
      auxiliaryPowerW,
    }),
  ) as [Drive, Drive];
  const outboundWhPerKm = consumptionWhPerKm(outbound);
  const modelWhPerKm = (outboundWhPerKm + consumptionWhPerKm(back)) / 2;
  const logEffect =
    car.logEffect + slot.sessionLogEffect + stream.normal(0, REPEATABILITY) + wake + slot.mishap.logEffect;
  const factor = Math.exp(logEffect);
  const energyWh = (modelWhPerKm * factor * loop.trueLengthM) / 1000;
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
      offCruiseSpeedMps,
      durationS: durationS(outbound) + durationS(back),
      auxiliaryPowerW,
      modelWhPerKm,
      logEffect,
      energyWh,
      outboundEnergyWh: (outboundWhPerKm * factor * legM) / 1000,
    },
    climate,
    traffic,
    trueChargeStart,
    trueChargeEnd: trueChargeStart - energyWh / car.usableCapacityWh,
    trueDistanceM: loop.trueLengthM,
    outboundDurationS: durationS(outbound),
  };
}

function climateOf(setup: DemoSetup, conditions: TrueConditions): ChoiceValue<'climate'> {
  if (setup.climate === 'off') return 'off';
  if (conditions.temperatureC < 3) return 'heating';
  return conditions.temperatureC > 27 ? 'cooling' : 'mild';
}

/** About the middle of method A6's priors: a heater has less to do at +2 °C than at −5 °C. */
function meanAuxiliaryW(climate: ChoiceValue<'climate'>, temperatureC: number, hasHeatPump: boolean): number {
  switch (climate) {
    case 'off':
      return 350;
    case 'mild':
      return 700;
    case 'cooling':
      return 900 + 75 * (temperatureC - 27);
    case 'heating':
      return (hasHeatPump ? 0.6 : 1) * (1700 + 100 * (3 - temperatureC));
  }
}
