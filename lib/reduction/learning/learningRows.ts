import { STANDARD_GRAVITY } from '@/lib/physics/atmosphere';
import { brakingWork } from '@/lib/physics/braking';
import { layOutCase } from '@/lib/physics/caseInputs';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { type InputName, indexOfInput } from '@/lib/physics/inputs';
import { type RoadLoadBelief, regressorsOf } from '@/lib/physics/learned';
import { AUXILIARY_PRIORS, VEHICLE_PRIORS } from '@/lib/physics/priors';
import { solveProfile } from '@/lib/physics/profile';
import {
  JOULE_PER_METRE_PER_WH_PER_KM,
  ROLLING_REFERENCE_C,
  rollingTemperatureFactor,
} from '@/lib/physics/roadLoad';
import { airDensityOf } from '../airDensityOf';

/** An approved run as the learning takes it. */
export interface LearnableRun {
  runNumber: number;
  carId: string;
  sessionId: string;
  engineCase: NormalisationCase;
  measuredWhPerKm: number;
  /** Run-scoped part, relative. */
  uRunRelative: number;
}

/**
 * What the runs leave open besides the road load itself, each with mean 0: how much crosswind adds to drag, how much
 * cold adds to rolling, how much of the reported wind arrives at the car (reduction 0.66 ± 0.10, rectangular), and the
 * auxiliary power with the climate off, cooling or heating. All runs share them, so they are unknowns, not noise.
 */
const COMMON_UNKNOWNS = [
  { key: 'yawDrag', u: VEHICLE_PRIORS.yawDrag.u },
  { key: 'rollingPerK', u: VEHICLE_PRIORS.rollingPerK.u },
  { key: 'windAtCar', u: 0.1 / Math.sqrt(3) / 0.66 },
  { key: 'climateOff', u: AUXILIARY_PRIORS.off.u },
  { key: 'cooling', u: AUXILIARY_PRIORS.cooling.u },
  { key: 'heating', u: AUXILIARY_PRIORS.heating.u },
] as const;

export interface LearningRow {
  run: LearnableRun;
  /** Regressors of CdA/η, Crr/η, P_aux and the common unknowns. */
  row: number[];
  /** Measured consumption less everything that is taken as known. */
  y: number;
  cruiseSpeedMps: number;
}

/** The belief on the road load with the common unknowns put beside it. */
export function withCommonUnknowns(belief: RoadLoadBelief): RoadLoadBelief {
  const known = belief.mean.length;
  const size = known + COMMON_UNKNOWNS.length;
  return {
    mean: [...belief.mean, ...COMMON_UNKNOWNS.map(() => 0)],
    covariance: Array.from({ length: size }, (_, i) =>
      Array.from({ length: size }, (_, j) => {
        if (i < known && j < known) return belief.covariance[i]?.[j] ?? 0;
        return i === j ? (COMMON_UNKNOWNS[i - known]?.u ?? 0) ** 2 : 0;
      }),
    ),
  };
}

/**
 * One run as a row of the linear model e = a·x_aero + r·x_roll + p·t/D (method A7), at the prior's values for what is
 * linearised. Climb and slow-downs are known beforehand, and so is auxiliary power that was read on the display; in
 * another climate than mild, p is not the model's own but that climate's prior and its common deviation from it.
 */
export function learningRow(run: LearnableRun, prior: RoadLoadBelief): LearningRow {
  const { engineCase } = run;
  const { x, falls } = layOutCase(engineCase);
  const at = (name: InputName) => x[indexOfInput(name)] as number;
  const [a = 0, r = 0] = prior.mean;
  const temperatureC = at('airTemperatureC');
  const airDensityKgM3 = airDensityOf(engineCase);
  const { meanSquareSpeedM2S2 } = solveProfile(engineCase.run);
  const headwind = 2 * Math.sqrt(meanSquareSpeedM2S2) * at('meanHeadwindMps');
  const { aeroRegressor, rollingRegressor, timeRegressor } = regressorsOf({
    airDensityKgM3,
    meanSquareSpeedM2S2: meanSquareSpeedM2S2 + headwind,
    alongWindMps: at('alongWindMps'),
    crossWindMps: at('crossWindMps'),
    yawDragPerRad2: at('yawDragPerRad2'),
    massKg: at('massKg'),
    airTemperatureC: temperatureC,
    durationS: at('durationS'),
    distanceM: at('distanceM'),
  });
  const perDensity = (0.5 * a * airDensityKgM3) / JOULE_PER_METRE_PER_WH_PER_KM;
  const cross = at('crossWindMps') ** 2;
  const wind = at('alongWindMps') ** 2 + (1 + at('yawDragPerRad2')) * cross;
  const offset = temperatureC - ROLLING_REFERENCE_C;
  const climate = engineCase.run.auxiliaryPowerW === undefined ? (engineCase.run.climate ?? 'off') : 'read';
  const inClimate = (name: string) => (climate === name ? timeRegressor : 0);
  const perForce = 1 / (JOULE_PER_METRE_PER_WH_PER_KM * at('drivetrainEfficiency'));
  const climbing = (at('massKg') * STANDARD_GRAVITY * at('netClimbM')) / at('distanceM');
  const rollingN = at('rollingCoefficient') * at('rollingOfSetup') * at('massKg') * STANDARD_GRAVITY;
  const slowDowns =
    (brakingWork(falls, {
      massKg: at('massKg'),
      cruiseMps: at('cruiseSpeedMps'),
      dragPerSquareN: 0.5 * airDensityKgM3 * at('dragAreaM2') * at('dragOfSetup'),
      constantN: rollingN * rollingTemperatureFactor(temperatureC, at('rollingTemperaturePerK')) + climbing,
      linearNPerMps: 0,
      decelerationMps2: at('brakingDecelerationMps2'),
    }) /
      at('distanceM')) *
    (1 - at('drivetrainEfficiency') * at('recuperationShare'));
  const auxiliary = climate === 'mild' ? 0 : at('auxiliaryPowerW') * timeRegressor;
  return {
    run,
    cruiseSpeedMps: at('cruiseSpeedMps'),
    y: run.measuredWhPerKm - (climbing + slowDowns) * perForce - auxiliary,
    row: [
      aeroRegressor,
      rollingRegressor,
      inClimate('mild'),
      perDensity * cross,
      (-r * rollingRegressor * offset) / (1 + at('rollingTemperaturePerK') * offset),
      perDensity * 2 * wind,
      inClimate('off'),
      inClimate('cooling'),
      inClimate('heating'),
    ],
  };
}
