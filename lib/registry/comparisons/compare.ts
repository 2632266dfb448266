import type { RangePromise } from '@/lib/answers/shownRange';
import { modelInText } from '@/lib/run/modelWords';
import { searchText } from '@/lib/run/storableText';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { findContrast, type OrientedContrast, percentOf } from '@/lib/stats/orientedContrast';
import type { OtherWays } from '@/lib/stats/otherWays/way';
import { planSeparation, type Separation, type WantedDifference } from '@/lib/stats/separationPlan';
import {
  earnedInterval,
  pairSides,
  type StatedDifference,
  stateDifference,
} from '@/lib/stats/statedDifference';
import { type FitSummary, UNREADABLE_SUMMARY } from '@/lib/stats/stored';
import {
  currentFit,
  type EstimateRow,
  estimatesOf,
  type SetupOffered,
  type ShownEstimate,
  setupsOfFit,
} from '@/lib/store/fits';
import { contrastsAmong } from '@/lib/store/publicPages';
import { movedAddress } from '../names/movedAddress';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { type ChosenGroup, chooseGroup } from './comparisonWorld';
import { NO_PAIRS, type PairsShown, readPairs } from './pairs';
import { promisedRanges } from './promisedRanges';

export interface CompareQuery {
  classKey?: string | undefined;
  world?: string | undefined;
  /** Part of the names of setups to choose from. */
  find?: string | undefined;
  /** In the order asked for: the first is the baseline. */
  setupSlugs: readonly string[];
  wanted: WantedDifference;
}

export interface ComparedSetup extends Omit<ShownEstimate, 'isRanked'> {
  setupId: string;
  slug: string;
  title: string;
  model: string;
  /** Its title, with the model before it where more than one model is compared. */
  name: string;
}

export interface SetupDifference extends StatedDifference {
  setup: ComparedSetup;
  /** Computed other ways; undefined where it has not been. */
  otherWays: OtherWays | undefined;
  dof: number | null;
  /** The part of the standard uncertainty from what the runs share by model and method, %; in the intervals. */
  sharedUPercent: number | null;
  /** What the plain means as measured would have said, %. */
  rawPercent: number;
  /** More or less energy over the trip, at the baseline's estimate; with the interval that earns the word. */
  onTripWh: { difference: number; low: number; high: number } | null;
  pairs: PairsShown;
  separation: Separation;
}

export interface CompareView extends ChosenGroup {
  /** Setups of the class to choose from: those asked for, and those with most runs whose names hold `find`. */
  choices: { model: string; setups: { slug: string; title: string; runs: number }[] }[];
  find: string;
  /** Further setups that could be found. */
  notOffered: number;
  /** Asked for beyond what one page compares. */
  leftOut: number;
  /** Asked for, but without a run in this class. */
  unknownSlugs: string[];
  baseline: ComparedSetup | undefined;
  others: ComparedSetup[];
  differences: SetupDifference[];
  /** What the displays promised at the start, by setup: of those with enough runs that say it. */
  promises: ReadonlyMap<string, RangePromise>;
  fit: {
    runCount: number;
    fittedAt: Date;
    methodVersion: string;
    converged: boolean;
    /** What speaks against its intervals; null where that is not known. */
    faults: Fault[] | null;
    pairsAtOnce: number;
    notes: string[];
  } | null;
  wanted: WantedDifference;
}

/** Setups to choose from at once; the others are found by their names. */
const MOST_OFFERED = 60;

/** Setups of one page: each has its pairs, its plan and its row. */
export const MOST_COMPARED = 24;

/** Long enough to mean something, short enough for every car. */
export const TRIP_KM = 100;

/** Two or more setups of one class against the first of them, from the class's published fit. */
export async function readComparison(
  registry: Registry,
  query: CompareQuery,
): Promise<CompareView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const fit = await currentFit(registry.db, chosen.group);
  const asked = [...new Set(query.setupSlugs)];
  const now = await Promise.all(
    asked.slice(0, MOST_COMPARED).map(async (slug) => (await movedAddress(registry, 'setup', slug)) ?? slug),
  );
  const slugs = [...new Set(now)];
  const find = searchText(query.find);
  const [rows, offered] =
    fit === null
      ? [[], { rows: [], total: 0 }]
      : await Promise.all([
          estimatesOf(registry.db, fit.id, slugs),
          setupsOfFit(registry.db, fit.id, find, MOST_OFFERED),
        ]);
  const found = slugs.flatMap((slug) => rows.filter((row) => row.setup.slug === slug));
  const [baselineRow, ...otherRows] = found;
  const summary = fit?.summary;
  const isAsked = baselineRow !== undefined && otherRows.length > 0;
  const setupIds = found.map((row) => row.setupId);
  const models = new Set(found.map((row) => row.setup.model.slug));
  const compared = (row: EstimateRow) => comparedSetup(row, models.size > 1);
  const [contrasts, pairs, protocol, promises] = isAsked
    ? await Promise.all([
        contrastsAmong(registry.db, fit?.id ?? '', setupIds),
        readPairs(registry, chosen.group, baselineRow.setupId, setupIds.slice(1)),
        activeProtocol(registry),
        promisedRanges(registry, chosen.group, setupIds),
      ])
    : [[], new Map<string, PairsShown>(), undefined, new Map<string, RangePromise>()];
  const differences =
    isAsked && summary && protocol
      ? otherRows.map((row) =>
          describeDifference(
            baselineRow,
            row,
            compared(row),
            findContrast(contrasts, baselineRow.setupId, row.setupId),
            pairs.get(row.setupId) ?? NO_PAIRS,
            summary,
            query.wanted,
            protocol.parameters.ranking.carsAcrossModels,
          ),
        )
      : [];
  return {
    ...chosen,
    // What is chosen stays to be seen, found or not.
    choices: choicesOf([...found, ...offered.rows.filter(({ setup }) => !slugs.includes(setup.slug))]),
    find: find ?? '',
    notOffered: offered.total - offered.rows.length,
    leftOut: asked.length - now.length,
    unknownSlugs: slugs.filter((slug) => !rows.some((row) => row.setup.slug === slug)),
    baseline: baselineRow === undefined ? undefined : compared(baselineRow),
    others: otherRows.map(compared),
    differences,
    promises,
    fit:
      fit === null
        ? null
        : {
            runCount: fit.runCount,
            fittedAt: fit.fittedAt,
            methodVersion: fit.methodVersion,
            converged: fit.converged,
            faults: fit.faults,
            pairsAtOnce: summary?.criticalValue?.pairs ?? 0,
            notes: summary?.notes ?? [UNREADABLE_SUMMARY],
          },
    wanted: query.wanted,
  };
}

function describeDifference(
  baseline: EstimateRow,
  row: EstimateRow,
  setup: ComparedSetup,
  contrast: OrientedContrast | undefined,
  pairs: PairsShown,
  summary: FitSummary,
  wanted: WantedDifference,
  leastCars: number,
): SetupDifference {
  const difference = contrast?.difference ?? null;
  const earned = contrast === undefined ? null : earnedInterval(contrast);
  const tripWh = (log: number) => baseline.estimateWhPerKm * Math.expm1(log) * TRIP_KM;
  return {
    setup,
    ...stateDifference(contrast, pairSides(baseline, row, leastCars), summary),
    otherWays: contrast?.otherWays,
    dof: contrast?.dof ?? null,
    sharedUPercent: contrast?.sharedU == null ? null : percentOf(contrast.sharedU),
    rawPercent: 100 * (row.rawMeanWhPerKm / baseline.rawMeanWhPerKm - 1),
    onTripWh:
      difference === null || earned === null
        ? null
        : { difference: tripWh(difference), low: tripWh(earned[0]), high: tripWh(earned[1]) },
    pairs,
    separation: planSeparation(wanted, summary, contrast, baseline.setup.model.slug === row.setup.model.slug),
  };
}

function comparedSetup(row: EstimateRow, severalModels: boolean): ComparedSetup {
  const { setup } = row;
  const { model } = setup;
  return {
    setupId: row.setupId,
    slug: setup.slug,
    title: setup.title,
    model: modelInText(model),
    name: severalModels
      ? `${model.maker.name} ${model.name} ${model.modelYear} · ${setup.title}`
      : setup.title,
    runs: row.runs,
    cars: row.cars,
    testers: row.testers,
    loops: row.loops,
    days: row.days,
    estimateWhPerKm: row.estimateWhPerKm,
    lowWhPerKm: row.lowWhPerKm,
    highWhPerKm: row.highWhPerKm,
    intervalKind: row.intervalKind,
    rawMeanWhPerKm: row.rawMeanWhPerKm,
    label: row.label,
  };
}

function choicesOf(rows: readonly Pick<SetupOffered, 'runs' | 'setup'>[]): CompareView['choices'] {
  const byModel = new Map<string, { slug: string; title: string; runs: number }[]>();
  for (const row of rows) {
    const name = modelInText(row.setup.model);
    const known = byModel.get(name) ?? [];
    byModel.set(name, [...known, { slug: row.setup.slug, title: row.setup.title, runs: row.runs }]);
  }
  return [...byModel]
    .map(([model, setups]) => ({ model, setups: setups.sort((a, b) => b.runs - a.runs) }))
    .sort((a, b) => a.model.localeCompare(b.model));
}
