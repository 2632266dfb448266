import type { StudiedSetup, StudyContrast } from './oneFactor';
import { separateFactors } from './oneFactor';
import type { StudyPlan } from './plan';
import type { PlanAsked } from './planForm';
import { type Reckoned, type ReckoningAsked, type ReckoningBasis, reckon } from './reckoning';

/** What is known for a plan apart from what its form says. */
export interface PlanningBasis extends Omit<ReckoningBasis, 'consumptionWhPerKm'> {
  /** By setup, Wh/km at reference conditions; a setup that nobody has driven in the class is left out. */
  consumptions: Readonly<Record<string, number>>;
  setups: readonly StudiedSetup[];
}

export type Planned =
  | { ok: true; contrasts: StudyContrast[]; kind: string; asked: ReckoningAsked; reckoned: Reckoned }
  | { ok: false; path: 'setups' | 'baselineId'; what: string; why: string; fix: string };

/** What a form amounts to: whether it separates what it moves, and then what it takes and can say. */
export function planned(asked: PlanAsked, basis: PlanningBasis, seed: number): Planned {
  const setupOf = (id: string) => basis.setups.find((setup) => setup.id === id);
  const baseline = setupOf(asked.baselineId);
  const others = asked.otherIds.flatMap((id) => setupOf(id) ?? []);
  if (baseline === undefined || others.length < asked.otherIds.length) {
    return {
      ok: false,
      path: baseline === undefined ? 'baselineId' : 'setups',
      what: 'A setup is not one of this car’s.',
      why: 'Each model has its own setups.',
      fix: 'Choose from the list.',
    };
  }
  const separated = separateFactors(baseline, others);
  if (!separated.ok) return { ...separated, path: 'setups' };
  const question: ReckoningAsked = {
    baselineId: asked.baselineId,
    otherIds: asked.otherIds,
    contrastIds: separated.contrasts.map(({ setupId }) => setupId),
    runsADay: asked.runsADay,
    days: asked.days,
    seed,
    wantedPercent: asked.wantedPercent,
    power: asked.power,
    betweenRunsS: 60 * asked.betweenRunsMin,
    pricePerWh: asked.pricePerKwh === null ? undefined : asked.pricePerKwh / 1000,
  };
  return {
    ok: true,
    contrasts: separated.contrasts,
    kind: separated.kind,
    asked: question,
    reckoned: reckon(question, { ...basis, consumptionWhPerKm: consumptionOf(asked, basis) }),
  };
}

/** Of the baseline, or else of the first other setup that somebody drove: one is near enough to reckon energy by. */
function consumptionOf(asked: PlanAsked, { consumptions }: PlanningBasis): number | null {
  const driven = [asked.baselineId, ...asked.otherIds].find((id) => consumptions[id] !== undefined);
  return driven === undefined ? null : (consumptions[driven] ?? null);
}

/** The plan as it is kept. */
export function planFrom(
  { question, ...asked }: PlanAsked,
  { contrasts, reckoned }: Extract<Planned, { ok: true }>,
  of: { cruiseClassKey: string; loopId: string; seed: number; basis: PlanningBasis },
): StudyPlan {
  const { charging, energyWh, cost, drivingS, betweenS, orders } = reckoned;
  return {
    question,
    cruiseClassKey: of.cruiseClassKey,
    loopId: of.loopId,
    baselineId: asked.baselineId,
    setupIds: asked.otherIds,
    contrasts,
    wantedPercent: asked.wantedPercent,
    power: asked.power,
    runsADay: asked.runsADay,
    seed: of.seed,
    orderKind: orders.kind,
    days: orders.days,
    calendar: asked.calendar,
    betweenRunsMin: asked.betweenRunsMin,
    pricePerKwh: asked.pricePerKwh,
    expected: {
      runVariance: of.basis.runVariance,
      isAssumed: of.basis.isAssumed,
      power: reckoned.power,
      detectablePercent: reckoned.detectablePercent,
      daysNeeded: reckoned.daysNeeded,
      hours: (drivingS + betweenS + (charging?.timeS ?? 0)) / 3600,
      energyWh,
      chargingStops: charging?.stops ?? null,
      cost,
    },
  };
}
