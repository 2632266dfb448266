import { interval95 } from '@/lib/physics/budget';
import type { LogConsumption } from '@/lib/physics/estimate/range';
import type { ReaderConditions } from '@/lib/physics/estimate/readerCase';
import { adoptedTerms } from '@/lib/reduction/adoptedTerms';
import { type ReaderAnswer, readerAnswer } from '@/lib/reduction/readerAnswer';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import { type WorldKey, worldKey } from '@/lib/run/world';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { type ReaderVariance, readerVariance } from '@/lib/stats/readerEstimate';
import type { FitSummary } from '@/lib/stats/stored';
import type { SetupToEstimate } from '@/lib/store/estimates';
import { fitsByIds } from '@/lib/store/fits';
import type { MethodInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';

/** A class in which the setup was driven so often that its fit gives it an interval. */
export interface EstimatedClass {
  readonly key: string;
  readonly label: string;
  readonly speedMps: number;
  readonly logMean: number;
  readonly runs: number;
  readonly cars: number;
  readonly fittedAt: Date;
  readonly converged: boolean;
  readonly faults: Fault[] | null;
  readonly fit: FitSummary;
}

/** Why a setup has no number of its own. */
export type NoNumber = 'notDriven' | 'noInterval' | 'unreadable';

/** A value with the ends of its 95 % interval. */
export interface Ranged {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface EstimatedAnswer extends Omit<ReaderAnswer, 'refusal' | 'valueWhPerKm'> {
  readonly consumption: LogConsumption;
  readonly whPerKm: Ranged;
  readonly variance: ReaderVariance;
}

export interface EstimatedClasses {
  readonly classes: readonly EstimatedClass[];
  /** Why there is none. */
  readonly without: NoNumber | undefined;
}

/**
 * The classes that an estimate of each of these setups can start from, the slowest first: those of its own world in which
 * its fit gives it an interval for a further car. Each fit is read once.
 *
 * @param classKey this class alone
 */
export async function estimatedClasses(
  registry: Registry,
  setups: readonly SetupToEstimate[],
  classKey?: string,
): Promise<EstimatedClasses[]> {
  const own = setups.map((setup) =>
    setup.estimates.filter(
      ({ fit: { group } }) =>
        group.world === setup.world && (classKey === undefined || group.cruiseClass.key === classKey),
    ),
  );
  const known = own.map((estimates) =>
    estimates.filter(({ intervalKind, dof }) => intervalKind === 'model' && dof !== null),
  );
  const fits = await fitsByIds(registry.db, [...new Set(known.flat().map(({ fit }) => fit.id))]);
  return setups.map((setup, i) => {
    const classes = (known[i] ?? [])
      .flatMap(({ fit: { id, fittedAt, converged, group }, logMean, runs, cars }): EstimatedClass[] => {
        const fit = fits.get(id);
        if (fit?.summary === undefined || !isWhole(fit.summary, setup.id)) return [];
        const { summary, faults } = fit;
        return [{ ...group.cruiseClass, logMean, runs, cars, fittedAt, converged, faults, fit: summary }];
      })
      .sort((a, b) => a.speedMps - b.speedMps);
    if (classes.length > 0) return { classes, without: undefined };
    const why = own[i]?.length === 0 ? 'notDriven' : known[i]?.length === 0 ? 'noInterval' : 'unreadable';
    return { classes, without: why };
  });
}

/** Whether a fit kept all that a joint uncertainty takes. */
function isWhole({ setups, covariance, componentCovariance }: FitSummary, setupId: string): boolean {
  return (
    setups.includes(setupId) &&
    covariance.length === setups.length &&
    covariance.every((row) => row.length === setups.length) &&
    componentCovariance.length > 0
  );
}

/** What rounding, also of a speed typed in another unit, may make two equal distances differ by. */
const AS_NEAR_MPS = 1e-3;

/** The class nearest to a speed; the slower of two as near. */
export function nearestClass<Class extends { readonly speedMps: number }>(
  classes: readonly Class[],
  speedMps: number,
): Class | undefined {
  const away = (of: Class) => Math.abs(of.speedMps - speedMps);
  return classes.reduce<Class | undefined>(
    (best, one) => (best === undefined || away(one) < away(best) - AS_NEAR_MPS ? one : best),
    undefined,
  );
}

/** One setup under a reader's conditions, from one class: the value, its uncertainty and what both are made of. */
export function answerIn(
  setup: SetupToEstimate,
  of: EstimatedClass,
  method: MethodInEffect,
  conditions: ReaderConditions,
  loadKg: number | undefined,
) {
  const subject = subjectOf(setup);
  const adopted = method.roadLoads.get(setup.model.id);
  const learned = adopted && adoptedTerms(adopted, subject);
  const found = readerAnswer(
    { subject, learned, logMean: of.logMean, classSpeedMps: of.speedMps },
    conditions,
    loadKg,
  );
  if (found.refusal !== null) return found;
  const { valueWhPerKm: value, ...rest } = found;
  const variance = readerVariance(of.fit, [{ weight: 1, answer: found.term }], true);
  const log = Math.log(value);
  const [low, high] = interval95(log, variance.u, variance.df);
  return {
    ...rest,
    consumption: { log, u: variance.u, df: variance.df },
    whPerKm: { value, low: Math.exp(low), high: Math.exp(high) },
    variance,
  };
}

/** Standard uncertainty and degrees of freedom of w₁·ln e₁ + w₂·ln e₂ of one car on one trip. */
export function uOfLogs(
  fit: FitSummary,
  [first, second]: readonly [EstimatedAnswer, EstimatedAnswer],
  weights: readonly [number, number],
): { readonly u: number; readonly df: number } {
  const terms = [
    { weight: weights[0], answer: first.term },
    { weight: weights[1], answer: second.term },
  ];
  return readerVariance(fit, terms, true);
}

export function worldOf(setup: SetupToEstimate): WorldKey {
  return worldKey(setup.world);
}

/** Model and setup as the runs of the registry's cars were reduced with. */
function subjectOf({ id, levels, model }: SetupToEstimate): Pick<ReductionSnapshot, 'model' | 'setup'> {
  return {
    model: { ...model, deliveredTyreKind: tyreKind(model.levels[0]?.tyreKind) },
    setup: {
      id,
      levels: levels.map(({ factor, level }) => ({
        factor,
        levelId: level.id,
        isBaseline: level.isBaseline,
        tyreKind: tyreKind(level.tyreKind),
      })),
    },
  };
}

const tyreKind = (stored: string | null | undefined) =>
  TYRE_KINDS.find(({ value }) => value === stored)?.value ?? null;
