import { may } from '@/lib/access/permissions';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { factorLabel } from '@/lib/run/factors';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { tyreKindOf } from '@/lib/run/tyreKind';
import { pooledNote } from '@/lib/stats/fitNotes';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { type FitSummary, UNREADABLE_SUMMARY } from '@/lib/stats/stored';
import { currentFit, type EstimateRow, estimatesOf, type ShownEstimate } from '@/lib/store/fits';
import { latestJob } from '@/lib/store/jobs';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import { keyPart, readPage } from '../keyset';
import type { Registry } from '../registry';

export interface RankingQuery {
  classKey?: string | undefined;
  world?: string | undefined;
  bodyClass?: string | undefined;
  tyreKind?: string | undefined;
  modelSlug?: string | undefined;
  /** "factor:level key" */
  level?: string | undefined;
  leastRuns?: number | undefined;
  leastCars?: number | undefined;
  from?: string | undefined;
}

export interface RankedSetup extends ShownEstimate {
  setupId: string;
  slug: string;
  title: string;
  model: string;
  modelSlug: string;
  missing: { what: string; have: number; need: number }[];
  rankLower: number | null;
  rankUpper: number | null;
  chanceOfLowest: number | null;
  component: number;
}

export interface RankingView extends ChosenGroup {
  fit: {
    fittedAt: Date;
    runCount: number;
    converged: boolean;
    /** What speaks against its intervals; null where that is not known. */
    faults: Fault[] | null;
    methodVersion: string;
    notes: string[];
    pooledFrom: string | null;
    repeatability: FitSummary['repeatability'];
    notNormalised: number;
    excluded: number;
    /** Standard deviations between cars (each on its loop), days and runs, log scale; null where the fit knows none. */
    spread: { car: number; session: number; residual: number } | null;
    /** Setups that shared cars join, directly or by a chain, largest group first: by model. */
    connected: { model: string; setups: number }[];
  };
  /** Of all ranked setups of the class, before filters. */
  rankedOf: number;
  /** A page of those that pass the filters: `before` it are so many of the `total`. */
  ranked: RankedSetup[];
  pages: { before: number; total: number; previous: string | undefined; next: string | undefined };
  /** The first of so many. */
  notRanked: RankedSetup[];
  notRankedOf: number;
  filters: {
    bodyClasses: string[];
    models: { slug: string; name: string }[];
    levels: { value: string; label: string }[];
  };
  /** The newest refit of the class that was asked for; null when none is on record. */
  refit: Awaited<ReturnType<typeof latestJob>>;
  mayRefit: boolean;
}

const MOST_SHOWN = 100;

/** Ranked setups from the place that a cursor names, by the setup beside it, so that a new fit loses no place. */
async function pageOfRanked(all: readonly RankedSetup[], from: string | undefined) {
  const page = await readPage(from, {
    size: MOST_SHOWN,
    key: keyPart.text,
    read: async (place, take) => {
      if (place === undefined) return all.slice(0, take);
      const at = all.findIndex(({ slug }) => slug === place.key);
      if (at < 0) return [];
      if (place.side === 'after') return all.slice(at + 1, at + 1 + take);
      return all.slice(Math.max(0, at - take), at).reverse();
    },
    keyOf: ({ slug }) => slug,
  });
  const before = Math.max(
    0,
    all.findIndex(({ slug }) => slug === page.rows[0]?.slug),
  );
  return { ...page, before, total: all.length };
}

/** The ranking of one cruise class as the last fit published it; nothing is computed but the filter. */
export async function readRankings(
  registry: Registry,
  query: RankingQuery,
  actor?: Actor,
): Promise<RankingView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const fit = await currentFit(registry.db, chosen.group);
  const key = comparisonGroupKey(chosen.group.cruiseClassKey, chosen.group.world);
  const [rows, refit] = await Promise.all([
    fit === null ? [] : estimatesOf(registry.db, fit.id),
    latestJob(registry.db, 'refit', key),
  ]);
  const summary = fit?.summary;
  const shown = rows.filter((row) => passes(row, query)).map(rankedSetup);
  const { rows: ranked, ...pages } = await pageOfRanked(
    shown.filter((row) => row.isRanked),
    query.from,
  );
  const notRanked = shown.filter((row) => !row.isRanked);
  return {
    ...chosen,
    fit: {
      fittedAt: fit?.fittedAt ?? new Date(0),
      runCount: fit?.runCount ?? 0,
      converged: fit?.converged ?? false,
      faults: fit?.faults ?? null,
      methodVersion: fit?.methodVersion ?? '',
      notes: fit === null ? [] : notesOf(summary),
      pooledFrom: summary?.pooledFrom ?? null,
      repeatability: summary?.repeatability ?? null,
      notNormalised: summary?.notNormalised ?? 0,
      excluded: summary?.excluded.length ?? 0,
      spread: summary?.repeatability ? spreadOf(summary.components) : null,
      connected: connectedGroups(rows),
    },
    rankedOf: rows.filter((row) => row.isRanked).length,
    ranked,
    pages,
    notRanked: notRanked.slice(0, MOST_SHOWN),
    notRankedOf: notRanked.length,
    filters: filterChoices(rows),
    refit,
    mayRefit: may(actor, 'refitRankings', undefined, chosen.group.world),
  };
}

/** What the fit says of itself; what it pooled is told on its own. */
function notesOf(summary: FitSummary | undefined): string[] {
  if (summary === undefined) return [UNREADABLE_SUMMARY];
  return summary.notes.filter((note) => note !== pooledNote(summary.pooledFrom ?? ''));
}

function spreadOf({ car, session, residual }: FitSummary['components']) {
  return { car: Math.sqrt(car), session: Math.sqrt(session), residual: Math.sqrt(residual) };
}

/** A car is of one model, and so is what shared cars join. */
function connectedGroups(rows: readonly EstimateRow[]): RankingView['fit']['connected'] {
  const groups = new Map<number, { model: string; setups: number }>();
  for (const { component, setup } of rows) {
    const group = groups.get(component) ?? { model: modelInText(setup.model), setups: 0 };
    group.setups += 1;
    groups.set(component, group);
  }
  return [...groups.values()].sort((a, b) => b.setups - a.setups || a.model.localeCompare(b.model));
}

function passes(row: EstimateRow, query: RankingQuery): boolean {
  const { setup } = row;
  if (query.bodyClass && setup.model.bodyClass !== query.bodyClass) return false;
  if (query.modelSlug && setup.model.slug !== query.modelSlug) return false;
  if (query.tyreKind && kindOfTyres(row) !== query.tyreKind) return false;
  if (query.level && !setup.levels.some(({ factor, level }) => `${factor}:${level.key}` === query.level))
    return false;
  if (query.leastRuns && row.runs < query.leastRuns) return false;
  if (query.leastCars && row.cars < query.leastCars) return false;
  return true;
}

/** A setup that says nothing of its tyres is on those that the model was delivered with. */
function kindOfTyres({ setup }: EstimateRow): string {
  return tyreKindOf(...setup.levels.map(({ level }) => level.tyreKind), setup.model.levels[0]?.tyreKind);
}

function rankedSetup(row: EstimateRow): RankedSetup {
  const { setup, logMean: _mean, logSe: _se, dof: _dof, missing, ...rest } = row;
  return {
    ...rest,
    missing,
    slug: setup.slug,
    title: setup.title,
    model: modelInText(setup.model),
    modelSlug: setup.model.slug,
  };
}

function filterChoices(rows: readonly EstimateRow[]): RankingView['filters'] {
  const models = new Map(rows.map(({ setup }) => [setup.model.slug, modelInText(setup.model)]));
  const levels = new Map(
    rows.flatMap(({ setup }) =>
      setup.levels.map(({ factor, level }) => [
        `${factor}:${level.key}`,
        `${factorLabel(factor)}: ${level.label}`,
      ]),
    ),
  );
  const byLabel = (a: { label: string }, b: { label: string }) => a.label.localeCompare(b.label);
  return {
    bodyClasses: [...new Set(rows.map(({ setup }) => setup.model.bodyClass))].sort(),
    models: [...models].map(([slug, name]) => ({ slug, name })).sort((a, b) => a.name.localeCompare(b.name)),
    levels: [...levels].map(([value, label]) => ({ value, label })).sort(byLabel),
  };
}
