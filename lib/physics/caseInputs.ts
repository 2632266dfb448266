import { airDensityRelativeU } from './air';
import { type FlatFalls, flattenFalls } from './braking';
import { type Distribution, type Scope, standardFromHalfWidth } from './budget';
import type { NormalisationCase } from './caseSchema';
import { coastDownAsRoadLoad } from './coastDown';
import {
  INPUT_COUNT,
  INPUT_MEANINGS,
  INPUT_NAMES,
  type InputName,
  indexOfInput,
  RETIRED_INPUT_NAMES,
} from './inputs';
import {
  AUXILIARY_PARTS,
  auxiliaryPowerPrior,
  batteryTemperatureHalfWidth,
  DRAG_AREA_PRIORS,
  EVEN_PART,
  meanSquareRatioU,
  type Prior,
  priorU,
  READING_PRIORS,
  ROLLING_PRIORS,
  UNCORRECTED_PRIORS,
  VEHICLE_PRIORS,
} from './priors';
import { judgeProfile, type ProfileJudgement } from './profile';
import { type DensitySource, type ReferenceConditions, STANDARD_REFERENCE } from './roadLoad';

/** A case laid out as the model's flat vectors: estimate, standard uncertainty, degrees of freedom, distribution. */
export interface CaseInputs {
  readonly x: Float64Array;
  readonly u: Float64Array;
  readonly dof: Float64Array;
  readonly distributions: Distribution[];
  readonly scopes: Scope[];
  readonly densitySource: DensitySource;
  readonly profile: ProfileJudgement;
  readonly falls: FlatFalls;
  readonly reference: ReferenceConditions;
}

const RETIRED: ReadonlySet<string> = new Set(RETIRED_INPUT_NAMES);
const DEFAULT_SCOPES: readonly Scope[] = INPUT_NAMES.map((name) => INPUT_MEANINGS[name].scope);
const DEFAULT_DISTRIBUTIONS: readonly Distribution[] = INPUT_NAMES.map(() => 'normal');

export function referenceOf(input: NormalisationCase): ReferenceConditions {
  const given = input.reference;
  return {
    cruiseSpeedMps: given?.cruiseSpeedMps ?? input.run.cruiseSpeedMps,
    airDensityKgM3: given?.airDensityKgM3 ?? STANDARD_REFERENCE.airDensityKgM3,
    airTemperatureC: given?.airTemperatureC ?? STANDARD_REFERENCE.airTemperatureC,
    auxiliaryPowerW: given?.auxiliaryPowerW ?? STANDARD_REFERENCE.auxiliaryPowerW,
  };
}

/** Lays out a case; what its `uncertainty` does not state is taken from the table of priors. */
export function layOutCase(input: NormalisationCase): CaseInputs {
  const { run, vehicle } = input;
  const x = new Float64Array(INPUT_COUNT);
  const u = new Float64Array(INPUT_COUNT);
  const dof = new Float64Array(INPUT_COUNT).fill(Number.POSITIVE_INFINITY);
  const distributions = DEFAULT_DISTRIBUTIONS.slice();
  const scopes = DEFAULT_SCOPES.slice();

  const put = (name: InputName, value: number, prior: Prior, statedU?: number) => {
    const i = indexOfInput(name);
    x[i] = value;
    u[i] = statedU ?? priorU(prior, value);
    distributions[i] = prior.distribution;
  };
  const fix = (name: InputName, value: number) => {
    x[indexOfInput(name)] = value;
  };

  const putChange = (name: InputName, ratio: number | undefined, prior: Prior) => {
    if (ratio === undefined) fix(name, 1);
    else put(name, ratio, prior);
  };

  const temperature = run.airTemperatureC;
  put('energyWh', run.energyWh, READING_PRIORS.energyWh);
  put('distanceM', run.distanceM, READING_PRIORS.distanceM);
  put('durationS', run.durationS, READING_PRIORS.durationS);
  put('cruiseSpeedMps', run.cruiseSpeedMps, READING_PRIORS.cruiseSpeedMps);
  put('airTemperatureC', temperature, READING_PRIORS.airTemperatureC);
  put('alongWindMps', run.alongWindMps, READING_PRIORS.wind);
  put('crossWindMps', run.crossWindMps, READING_PRIORS.wind);
  fix('meanHeadwindMps', run.meanHeadwindMps ?? 0);
  put('netClimbM', run.netClimbM, READING_PRIORS.netClimbM);
  const auxiliary =
    run.auxiliaryPowerW === undefined
      ? auxiliaryPowerPrior(run.climate ?? 'off', temperature, run.hasHeatPump)
      : { valueW: run.auxiliaryPowerW, uW: priorU(READING_PRIORS.auxiliaryPowerW, run.auxiliaryPowerW) };
  const stated = input.uncertainty?.auxiliaryPowerW;
  const uAuxiliary = stated === undefined ? auxiliary.uW : statedU(stated);
  // a scope that the case states is where all of it lies
  const parts = stated?.scope === undefined ? AUXILIARY_PARTS : { car: 0, session: 1 };
  put('auxiliaryPowerW', auxiliary.valueW, READING_PRIORS.auxiliaryPowerW, parts.session * uAuxiliary);
  put('auxiliaryHabitW', 0, READING_PRIORS.auxiliaryPowerW, parts.car * uAuxiliary);
  const falls = flattenFalls(run.stops);
  fix('brakingDecelerationMps2', VEHICLE_PRIORS.brakingDeceleration.value);
  if (falls.count.length > 0) {
    const evenly = EVEN_PART * VEHICLE_PRIORS.brakingWork.u;
    put('brakingOfCarShare', 0, VEHICLE_PRIORS.brakingWork, evenly);
    put('brakingOfRunShare', 0, VEHICLE_PRIORS.brakingWork, evenly);
    if (falls.distanceM.some(Number.isNaN)) {
      const { brakingDeceleration } = VEHICLE_PRIORS;
      put('brakingDecelerationMps2', brakingDeceleration.value, brakingDeceleration);
    }
  }

  const densitySource: DensitySource = run.airDensityKgM3 === undefined ? 'pressure' : 'density';
  fix('densityEquation', 1);
  if (run.airDensityKgM3 !== undefined) {
    put('airDensityKgM3', run.airDensityKgM3, READING_PRIORS.airDensityKgM3);
  } else {
    const pressure = run.pressurePa as number;
    put('pressurePa', pressure, READING_PRIORS.pressurePa);
    put('relativeHumidity', run.relativeHumidity as number, READING_PRIORS.relativeHumidity);
    u[indexOfInput('densityEquation')] = airDensityRelativeU(temperature, pressure);
  }

  const profile = judgeProfile(run);
  if (profile.source === 'trace') {
    put('meanSquareSpeedM2S2', run.meanSquareSpeedM2S2 as number, READING_PRIORS.meanSquareSpeedM2S2);
  } else if (profile.source === 'loop') {
    const ratio = run.meanSquareRatio as number;
    put('meanSquareRatio', ratio, READING_PRIORS.meanSquareRatio, meanSquareRatioU(ratio));
  } else if (profile.source === 'share') {
    put('offCruiseShare', run.offCruiseShare as number, READING_PRIORS.offCruiseShare);
  } else if (profile.source === 'ratio') {
    put('offCruiseSpeedRatio', READING_PRIORS.offCruiseSpeedRatio.value, READING_PRIORS.offCruiseSpeedRatio);
  }

  put('massKg', vehicle.massKg, VEHICLE_PRIORS.mass);
  if (vehicle.coastDown !== undefined) {
    const own = coastDownAsRoadLoad(vehicle.coastDown, vehicle.massKg);
    put('dragAreaM2', own.dragAreaM2, VEHICLE_PRIORS.coastDown);
    put('rollingCoefficient', own.rollingCoefficient, VEHICLE_PRIORS.coastDown);
    put('linearRollingNPerMps', own.linearNPerMps, VEHICLE_PRIORS.coastDown);
  } else {
    const bodyPrior = DRAG_AREA_PRIORS[vehicle.bodyClass ?? 'hatch'];
    const tyrePrior = ROLLING_PRIORS[vehicle.tyreKind ?? 'road'];
    if (vehicle.dragAreaM2 === undefined) put('dragAreaM2', bodyPrior.value, bodyPrior);
    else put('dragAreaM2', vehicle.dragAreaM2, VEHICLE_PRIORS.statedDragArea);
    if (vehicle.rollingCoefficient === undefined) put('rollingCoefficient', tyrePrior.value, tyrePrior);
    else put('rollingCoefficient', vehicle.rollingCoefficient, VEHICLE_PRIORS.statedRolling);
  }
  putChange('dragOfSetup', vehicle.dragOfSetup, VEHICLE_PRIORS.changedDrag);
  putChange('rollingOfSetup', vehicle.rollingOfSetup, VEHICLE_PRIORS.changedRolling);
  put(
    'drivetrainEfficiency',
    vehicle.drivetrainEfficiency ?? VEHICLE_PRIORS.efficiency.value,
    VEHICLE_PRIORS.efficiency,
  );
  put('yawDragPerRad2', vehicle.yawDragPerRad2 ?? VEHICLE_PRIORS.yawDrag.value, VEHICLE_PRIORS.yawDrag);
  const perK =
    temperature < 5 || temperature > 40 ? VEHICLE_PRIORS.rollingPerKExtrapolated : VEHICLE_PRIORS.rollingPerK;
  put('rollingTemperaturePerK', perK.value, perK);
  put('recuperationShare', VEHICLE_PRIORS.recuperation.value, VEHICLE_PRIORS.recuperation);
  put('trafficWakeShare', 0, UNCORRECTED_PRIORS.traffic[run.conditions?.traffic ?? 'moderate']);
  put('roadSurfaceShare', 0, UNCORRECTED_PRIORS.roadSurface);
  put('tyreWarmUpShare', 0, UNCORRECTED_PRIORS.tyreWarmUp);
  const uBattery = (EVEN_PART * batteryTemperatureHalfWidth(temperature)) / Math.sqrt(3);
  put('batteryTemperatureShare', 0, UNCORRECTED_PRIORS.batteryTemperature, uBattery);
  put('batteryTemperatureCommonShare', 0, UNCORRECTED_PRIORS.batteryTemperature, uBattery);
  const uScale = EVEN_PART * READING_PRIORS.energyDisplayScale.u;
  put('displayScaleOfModelShare', 0, READING_PRIORS.energyDisplayScale, uScale);
  put('displayScaleOfCarShare', 0, READING_PRIORS.energyDisplayScale, uScale);

  if (input.uncertainty !== undefined) {
    for (const name of Object.keys(input.uncertainty) as InputName[]) {
      const stated = input.uncertainty[name];
      if (stated === undefined || RETIRED.has(name)) continue;
      const i = indexOfInput(name);
      distributions[i] = stated.distribution ?? 'normal';
      // the parts of auxiliary power are shared out above
      if (name !== 'auxiliaryPowerW') u[i] = statedU(stated);
      if (stated.dof !== undefined) dof[i] = stated.dof;
      if (stated.scope !== undefined) scopes[i] = stated.scope;
    }
  }
  return { x, u, dof, distributions, scopes, densitySource, profile, falls, reference: referenceOf(input) };
}

type StatedUncertainty = NonNullable<NonNullable<NormalisationCase['uncertainty']>[InputName]>;

function statedU({ u, halfWidth, distribution }: StatedUncertainty): number {
  return u ?? standardFromHalfWidth(halfWidth ?? 0, distribution ?? 'normal');
}
