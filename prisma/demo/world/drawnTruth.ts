import { DRAG_AREA_PRIORS, priorU, ROLLING_PRIORS, VEHICLE_PRIORS } from '@/lib/physics/priors';
import type { TyreKind } from '@/lib/run/tyreKind';
import { CENTRAL_NATURE, type Nature } from './forwardModel';
import type { PriorDraws } from './priorDraws';
import type { DemoLoop, DemoModel, DemoSetup } from './types';

/** What is one number for all cars, about its prior. */
export function drawnNature(draws: PriorDraws, temperatureC: number): Nature {
  const { yawDrag, rollingPerK, rollingPerKExtrapolated, recuperation } = VEHICLE_PRIORS;
  const perK = temperatureC < 5 || temperatureC > 40 ? rollingPerKExtrapolated : rollingPerK;
  return {
    yawDragPerRad2: CENTRAL_NATURE.yawDragPerRad2 + yawDrag.u * draws.rectangular('method', 'yaw'),
    rollingTemperaturePerK:
      CENTRAL_NATURE.rollingTemperaturePerK + perK.u * draws.normal('method', 'per kelvin'),
    recuperation: CENTRAL_NATURE.recuperation + recuperation.u * draws.normal('method', 'recuperation'),
  };
}

/** The model with its road load drawn about the priors; each setup keeps what it changes, as a ratio. */
export function drawnModel(draws: PriorDraws, model: DemoModel): DemoModel {
  const [baseline] = model.setups;
  if (baseline === undefined) return model;
  const stated = model.dragAreaM2;
  const drag =
    stated === undefined
      ? DRAG_AREA_PRIORS[model.bodyClass]
      : { value: stated, u: priorU(VEHICLE_PRIORS.statedDragArea, stated) };
  const dragAreaM2 = drag.value + drag.u * draws.normal('model', `drag ${model.key}`);
  const { efficiency, mass } = VEHICLE_PRIORS;
  const drivetrain = efficiency.value + efficiency.u * draws.normal('model', `efficiency ${model.key}`);
  const massOffKg = mass.u * draws.normal('model', `mass ${model.key}`);
  const rollingOf = (kind: TyreKind) =>
    ROLLING_PRIORS[kind].value +
    ROLLING_PRIORS[kind].u * draws.normal('model', `rolling ${model.key} ${kind}`);
  return {
    ...model,
    setups: model.setups.map((setup) => {
      const kind = tyreKindOf(model, setup);
      const alike = model.setups.find((each) => tyreKindOf(model, each) === kind) ?? setup;
      return {
        ...setup,
        truth: {
          dragAreaM2: dragAreaM2 * (setup.truth.dragAreaM2 / baseline.truth.dragAreaM2),
          rollingCoefficient:
            rollingOf(kind) * (setup.truth.rollingCoefficient / alike.truth.rollingCoefficient),
          drivetrainEfficiency:
            drivetrain * (setup.truth.drivetrainEfficiency / baseline.truth.drivetrainEfficiency),
          massKg: model.kerbMassKg + setup.loadKg + massOffKg,
        },
      };
    }),
  };
}

/** Whether a setup leaves drag, rolling and efficiency as its model was delivered. */
export function leavesRoadLoad(model: DemoModel, setup: DemoSetup): boolean {
  const truth = model.setups[0]?.truth;
  return (
    truth !== undefined &&
    Math.abs(setup.truth.dragAreaM2 / truth.dragAreaM2 - 1) < 1e-9 &&
    Math.abs(setup.truth.rollingCoefficient / truth.rollingCoefficient - 1) < 1e-9 &&
    Math.abs(setup.truth.drivetrainEfficiency / truth.drivetrainEfficiency - 1) < 1e-9
  );
}

function tyreKindOf(model: DemoModel, setup: DemoSetup): TyreKind {
  const tyres = model.levels.filter((level) => level.factor === 'wheelTyre');
  const own = tyres.find((level) => setup.levelKeys.includes(`wheelTyre=${level.key}`));
  return (own ?? tyres[0])?.tyreKind ?? 'road';
}

/** Standard uncertainty of a loop's net climb (the engine's prior). */
const NET_CLIMB_U_M = 2;

/** The loop as it truly is: its length and its climb about the registered ones. */
export function drawnLoop(draws: PriorDraws, loop: DemoLoop): DemoLoop {
  const climbM = NET_CLIMB_U_M * draws.normal('car', `climb ${loop.key}`);
  const [outbound, back] = loop.legs;
  return {
    ...loop,
    trueLengthM: loop.lengthM + loop.lengthUncertaintyM * draws.normal('car', `length ${loop.key}`),
    trueLegClimbM: [outbound.netClimbM + climbM / 2, back.netClimbM + climbM / 2],
  };
}
