import { addCar } from '@/lib/registry/cars/addCar';
import { addCalibration } from '@/lib/registry/cars/calibrations';
import { addLoop } from '@/lib/registry/loops/addLoop';
import { addModel } from '@/lib/registry/models/addModel';
import { stateCharging } from '@/lib/registry/models/stateCharging';
import type { Registry } from '@/lib/registry/registry';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import type { Actor } from '@/lib/run/roles';
import { CHARGING } from '../world/charging';
import { levelId } from '../world/models';
import type { DemoModel, DemoWorld } from '../world/types';
import type { People } from './loadPeople';

/** The ids that the registry gave, by the demo world's own keys. */
export interface FleetIds {
  models: ReadonlyMap<string, string>;
  cars: ReadonlyMap<string, string>;
  setups: ReadonlyMap<string, string>;
  loops: ReadonlyMap<string, string>;
  /** By `levelName`. */
  levels: ReadonlyMap<string, string>;
}

/** A level among those of all models. */
export const levelName = (modelKey: string, level: string) => `${modelKey} ${level}`;

/** Adds models with their levels, setups and charging, the testers' cars with their calibrations, and the loops. */
export async function loadFleet(registry: Registry, world: DemoWorld, people: People): Promise<FleetIds> {
  const cars = new Map<string, string>();
  const setups = new Map<string, string>();
  const loops = new Map<string, string>();
  const levels = new Map<string, string>();
  const models = new Map<string, string>();
  for (const model of world.models) {
    const owner = world.cars.find((car) => car.modelKey === model.key)?.ownerKey ?? '';
    models.set(model.key, await loadModel(registry, found(people, owner), model, { setups, levels }));
  }
  for (const car of world.cars) {
    const owner = found(people, car.ownerKey);
    const model = world.models.find((each) => each.key === car.modelKey);
    const { carId } = await addCar(registry, owner, {
      modelId: found(models, car.modelKey),
      name: car.name,
      usableCapacityWh: car.usableCapacityWh,
      ownValuesSource: 'Capacity: energy between full and nearly empty, summer 2025',
      placardFrontPa: model?.setups[0]?.placardPa.front,
      placardRearPa: model?.setups[0]?.placardPa.rear,
    });
    cars.set(car.key, carId);
    const calibration = {
      carId,
      measuredOn: car.calibratedOn,
      method: 'Against satellite positioning over 60 km',
    };
    await addCalibration(registry, owner, {
      ...calibration,
      instrument: 'odometer',
      factor: car.calibratedOdometerFactor,
      standardUncertainty: 0.001,
    });
    await addCalibration(registry, owner, {
      ...calibration,
      instrument: 'speedometer',
      factor: car.calibratedSpeedometerFactor,
      standardUncertainty: 0.002,
    });
  }
  for (const { key, ownerKey, trueLengthM: _, ...loop } of world.loops) {
    const { loopId } = await addLoop(registry, found(people, ownerKey), loop);
    loops.set(key, loopId);
  }
  return { models, cars, setups, loops, levels };
}

async function loadModel(
  registry: Registry,
  actor: Actor,
  model: DemoModel,
  { setups, levels }: { setups: Map<string, string>; levels: Map<string, string> },
): Promise<string> {
  const { modelId } = await addModel(registry, actor, {
    makerName: model.makerName,
    name: model.name,
    modelYear: model.modelYear,
    variant: model.variant,
    bodyClass: model.bodyClass,
    kerbMassKg: model.kerbMassKg,
    usableCapacityWh: model.usableCapacityWh,
    dragAreaM2: model.dragAreaM2,
    dragAreaSource: model.dragAreaSource,
    hasHeatPump: model.hasHeatPump,
  });
  const charging = CHARGING.get(model.key);
  if (charging !== undefined) {
    await stateCharging(registry, actor, {
      modelId,
      points: charging.points?.map(([percent, kw]) => ({ charge: percent / 100, powerW: 1000 * kw })),
      peakPowerW: charging.peakKw && 1000 * charging.peakKw,
      source: charging.source,
    });
  }
  const levelIds = new Map<string, string>();
  for (const level of model.levels) {
    const added = await addFactorLevel(registry, actor, {
      modelId,
      factor: level.factor,
      label: level.label,
      tyreKind: level.tyreKind,
    });
    levelIds.set(levelId(level), added.levelId);
    levels.set(levelName(model.key, levelId(level)), added.levelId);
  }
  for (const setup of model.setups) {
    const { setupId } = await addSetup(registry, actor, {
      modelId,
      levelIds: setup.levelKeys.map((key) => found(levelIds, key)),
    });
    setups.set(setup.key, setupId);
  }
  return modelId;
}

export function found<T>(map: ReadonlyMap<string, T>, key: string): T {
  const value = map.get(key);
  if (value === undefined) throw new Error(`the demo world refers to “${key}”, which was not made`);
  return value;
}
