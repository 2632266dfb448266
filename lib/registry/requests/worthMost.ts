import type { AnswerNumbers } from '@/lib/answers/answer';
import { chargingCurve } from '@/lib/physics/estimate/chargingCurve';
import type { ComparisonGroupRef } from '@/lib/run/comparisonGroup';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { modelInText } from '@/lib/run/modelWords';
import { findContrast, percentOf } from '@/lib/stats/orientedContrast';
import { withoutShared } from '@/lib/stats/sharedEffects';
import { pairSides, stateDifference } from '@/lib/stats/statedDifference';
import type { FitSummary } from '@/lib/stats/stored';
import { readChargingSheet } from '@/lib/store/chargingSheets';
import { currentFit, type EstimateRow, estimatesOf } from '@/lib/store/fits';
import { carsOnLoops, openPairs, weightsOfCars } from '@/lib/store/openPairs';
import { contrastsOfPairs } from '@/lib/store/rankingContrasts';
import { modelToPlan } from '@/lib/store/studyBasis';
import type { ReckoningBasis } from '@/lib/study/reckoning';
import { type CarOnLoop, type DayToDrive, type OpenPair, worthDriving } from '@/lib/study/worthDriving';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { batteryOf } from '../studies/planningBasis';

/** Differences that are held against each other, the widest first. */
const MOST_PAIRS = 60;
/** Cars on loops that could drive them, and rows of what these drove. */
const MOST_CARS_ON_LOOPS = 40;
const MOST_WEIGHTS = 4000;
/** Loops that a car new to the registry could drive. */
const MOST_NEW_LOOPS = 3;

/** A day that would teach much, in the numbers that its sentence is made of. */
export interface DayWorthDriving extends AnswerNumbers {
  classKey: string;
  classLabel: string;
  model: string;
  modelId: string;
  baseline: { id: string; slug: string; title: string };
  setup: { id: string; slug: string; title: string };
  day: DayToDrive;
  hours: number;
  isChargingKnown: boolean;
  /** Undefined for a car that is new here. */
  carId: string | undefined;
  anyCar: boolean;
  loop: { id: string; name: string };
  /** Half-widths of the difference, %: now, and after such a day. */
  halfWidthPercent: number;
  halfWidthAfterPercent: number;
  /** By how much the half-width shrinks for an hour, logarithm. */
  gainPerHour: number;
}

interface AskedOf {
  group: ComparisonGroupRef;
  /** Only cars of these, on loops that they drove; undefined for any car, and one that is new. */
  cars?: readonly { id: string; modelId: string }[] | undefined;
  take: number;
}

/** The days that would teach most for an hour, of a class. None where nothing was fitted or all is settled. */
export async function readWorthMost(registry: Registry, asked: AskedOf): Promise<DayWorthDriving[]> {
  const { db } = registry;
  const { group } = asked;
  const cruiseClass = cruiseClassByKey(group.cruiseClassKey);
  const fit = await currentFit(db, group);
  const summary = fit?.summary;
  if (cruiseClass === undefined || fit === null || summary === undefined) return [];
  if (summary.covariance.length === 0 || summary.repeatability === null) return [];
  const ofCars = asked.cars?.map(({ modelId }) => modelId);
  const found = await openPairs(db, { fitId: fit.id, modelIds: ofCars }, MOST_PAIRS);
  if (found.length === 0) return [];
  const modelIds = [...new Set(found.map(({ modelId }) => modelId))];
  const [rows, contrasts, cars, protocol, batteries] = await Promise.all([
    estimatesOf(db, fit.id, [...new Set(found.flatMap(({ baselineSlug, slug }) => [baselineSlug, slug]))]),
    contrastsOfPairs(
      db,
      fit.id,
      found.map(({ baselineId, setupId }) => [baselineId, setupId] as const),
    ),
    carsThatMay(registry, asked, modelIds, summary),
    activeProtocol(registry),
    Promise.all(modelIds.map((id) => batteryOfModel(registry, id))),
  ]);
  const rowOf = new Map(rows.map((row) => [row.setupId, row]));
  const pairs = found.flatMap(({ baselineId, setupId, modelId }): OpenPair[] => {
    const contrast = findContrast(contrasts, baselineId, setupId);
    if (contrast?.se == null || contrast.dof === null) return [];
    return [
      { baselineId, setupId, modelId, se: contrast.se, dof: contrast.dof, sharedU: contrast.sharedU ?? 0 },
    ];
  });
  const reckonedFrom = (pair: OpenPair, car: CarOnLoop): ReckoningBasis => ({
    runVariance: 0,
    isAssumed: false,
    loopLengthM: car.loop.lengthM,
    speedMps: cruiseClass.speedMps,
    consumptionWhPerKm: rowOf.get(pair.baselineId)?.estimateWhPerKm ?? null,
    ...(batteries[modelIds.indexOf(pair.modelId)] ?? { battery: null, curve: null }),
  });
  const worth = worthDriving(
    pairs,
    cars,
    {
      place: new Map(summary.setups.map((setup, i) => [setup, i])),
      covariance: withoutShared(summary.covariance, summary.sharedEffects),
      components: summary.components,
      knownVariance: summary.repeatability.meanKnownVariance,
    },
    reckonedFrom,
  );
  const leastCars = protocol.parameters.ranking.carsAcrossModels;
  const seen = new Set<string>();
  return worth
    .flatMap((one): DayWorthDriving[] => {
      const [baseline, setup] = [rowOf.get(one.pair.baselineId), rowOf.get(one.pair.setupId)];
      if (baseline === undefined || setup === undefined || seen.has(setup.setupId)) return [];
      seen.add(setup.setupId);
      const sides = pairSides(baseline, setup, leastCars);
      return [
        {
          ...stateDifference(findContrast(contrasts, baseline.setupId, setup.setupId), sides, summary),
          classKey: cruiseClass.key,
          classLabel: cruiseClass.label,
          model: modelInText(setup.setup.model),
          modelId: one.pair.modelId,
          baseline: named(baseline),
          setup: named(setup),
          day: one.day,
          hours: one.hours,
          isChargingKnown: one.isChargingKnown,
          carId: one.car.carId,
          anyCar: one.anyCar,
          loop: { id: one.car.loop.id, name: one.car.loop.name },
          gainPerHour: one.gainPerHour,
          halfWidthPercent: percentOf(one.halfWidth),
          halfWidthAfterPercent: percentOf(one.halfWidthAfter),
        },
      ];
    })
    .slice(0, asked.take);
}

const named = ({ setupId, setup }: EstimateRow) => ({ id: setupId, slug: setup.slug, title: setup.title });

/** Cars of these models on the loops that they drove, with what they drove; and new ones on the loops driven most. */
async function carsThatMay(
  registry: Registry,
  { group, cars }: AskedOf,
  modelIds: readonly string[],
  summary: FitSummary,
): Promise<CarOnLoop[]> {
  const { db } = registry;
  const of = { ...group, methodVersion: await shownLabel(db, group.world), modelIds };
  const carIds = cars?.map(({ id }) => id);
  const driven = await carsOnLoops(db, carIds === undefined ? of : { ...of, carIds }, MOST_CARS_ON_LOOPS);
  const weights = await weightsOfCars(
    db,
    {
      ...of,
      carIds: [...new Set(driven.map(({ carId }) => carId))],
      runVariance: Math.max(summary.components.residual, LEAST_VARIANCE),
    },
    MOST_WEIGHTS,
  );
  const soFar = new Map<string, Map<string, Map<string, Map<string, number>>>>();
  for (const { carId, loopId, sessionId, setupId, weight } of weights) {
    if (!summary.setups.includes(setupId)) continue;
    const loops = soFar.get(carId) ?? new Map<string, Map<string, Map<string, number>>>();
    const sessions = loops.get(loopId) ?? new Map<string, Map<string, number>>();
    const session = sessions.get(sessionId) ?? new Map<string, number>();
    session.set(setupId, weight);
    soFar.set(carId, loops.set(loopId, sessions.set(sessionId, session)));
  }
  const known = driven.map(({ carId, modelId, loopId, name, lengthM }) => ({
    carId,
    modelId,
    soFar: new Map([...(soFar.get(carId) ?? [])].map(([loop, sessions]) => [loop, [...sessions.values()]])),
    loop: { id: loopId, name, lengthM },
  }));
  if (cars !== undefined) return known;
  const loops = [...new Map(driven.map((row) => [row.loopId, row])).values()].slice(0, MOST_NEW_LOOPS);
  const fresh = modelIds.flatMap((modelId) =>
    loops.map(({ loopId, name, lengthM }) => ({
      carId: undefined,
      modelId,
      soFar: new Map(),
      loop: { id: loopId, name, lengthM },
    })),
  );
  return [...known, ...fresh];
}

/** As the fit itself keeps weights finite where runs agree (carParts.ts). */
const LEAST_VARIANCE = 1e-8;

async function batteryOfModel(registry: Registry, modelId: string) {
  const [model, sheet] = await Promise.all([
    modelToPlan(registry.db, modelId),
    readChargingSheet(registry.db, modelId),
  ]);
  const battery = batteryOf(null, model?.usableCapacityWh ?? null);
  return { battery, curve: chargingCurve(sheet, battery?.capacityWh ?? null)?.curve ?? null };
}
