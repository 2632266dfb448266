import { chargingCurve } from '@/lib/physics/estimate/chargingCurve';
import type { BatteryKnown } from '@/lib/physics/estimate/usableEnergy';
import { youngClassSpread } from '@/lib/physics/priors';
import { type CruiseClass, cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { WorldKey } from '@/lib/run/world';
import { readChargingSheet } from '@/lib/store/chargingSheets';
import type { Queryable } from '@/lib/store/database';
import { currentFit } from '@/lib/store/fits';
import { consumptionsOf, modelToPlan } from '@/lib/store/studyBasis';
import type { PlanningBasis } from '@/lib/study/makePlan';
import { setupsOfModel } from './setupsOfModel';

/**
 * The known part of one run's standard uncertainty where a class has no runs to take it from: resolution of the display
 * and the like, 0.5 %. Common practice, no source.
 */
const ASSUMED_KNOWN_U = 0.005;

export interface PlanningOf {
  world: WorldKey;
  modelId: string;
  cruiseClassKey: string;
  loopLengthM: number;
  /** Chosen already. */
  setupIds: readonly string[];
  /** Of the car, where its owner measured it. */
  capacity: { usableCapacityWh: number | null; usableCapacityUWh: number | null } | null;
}

/** Variance of a run beside its known part, and that: from the class's fit, or as a young class is believed to be. */
export async function runSpread(
  db: Queryable,
  group: { cruiseClassKey: string; world: WorldKey },
): Promise<{ unexplained: number; known: number; isAssumed: boolean }> {
  const fit = await currentFit(db, group);
  const { components, repeatability } = fit?.summary ?? {};
  if (components === undefined || repeatability == null || !(components.residual > 0)) {
    return { unexplained: youngClassSpread().runSd ** 2, known: ASSUMED_KNOWN_U ** 2, isAssumed: true };
  }
  return {
    unexplained: components.residual,
    known: repeatability.meanKnownVariance,
    isAssumed: fit?.summary?.origins.residual !== 'own',
  };
}

/** Everything from which a plan is reckoned; undefined where the model or the class is not known. */
export async function planningBasis(
  db: Queryable,
  of: PlanningOf,
): Promise<(PlanningBasis & { cruiseClass: CruiseClass }) | undefined> {
  const cruiseClass = cruiseClassByKey(of.cruiseClassKey);
  const model = await modelToPlan(db, of.modelId);
  if (cruiseClass === undefined || model === null) return undefined;
  const group = { cruiseClassKey: of.cruiseClassKey, world: of.world };
  const [setups, spread, sheet] = await Promise.all([
    setupsOfModel(db, model, of.setupIds),
    runSpread(db, group),
    readChargingSheet(db, of.modelId),
  ]);
  const battery = batteryOf(of.capacity, model.usableCapacityWh);
  const consumptions = await consumptionsOf(
    db,
    group,
    setups.map(({ id }) => id),
  );
  return {
    cruiseClass,
    runVariance: spread.unexplained + spread.known,
    isAssumed: spread.isAssumed,
    loopLengthM: of.loopLengthM,
    speedMps: cruiseClass.speedMps,
    battery,
    curve: chargingCurve(sheet, battery?.capacityWh ?? null)?.curve ?? null,
    consumptions: Object.fromEntries(consumptions),
    setups,
  };
}

export function batteryOf(own: PlanningOf['capacity'], whenNewWh: number | null): BatteryKnown | null {
  if (own?.usableCapacityWh != null) {
    return {
      basis: 'measured',
      capacityWh: own.usableCapacityWh,
      uWh: own.usableCapacityUWh ?? 0.01 * own.usableCapacityWh,
    };
  }
  return whenNewWh === null ? null : { basis: 'new', capacityWh: whenNewWh };
}
