import { may } from '@/lib/access/permissions';
import { placelessText } from '@/lib/answers/placeText';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { factorLabel } from '@/lib/run/factors';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { type TemperatureBand, temperatureBandOf } from '@/lib/run/temperatureBand';
import { pooledNote } from '@/lib/stats/fitNotes';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { type FitSummary, UNREADABLE_SUMMARY } from '@/lib/stats/stored';
import { currentFit, estimatesOf } from '@/lib/store/fits';
import { latestJob } from '@/lib/store/jobs';
import { plainMeans } from '@/lib/store/plainMeans';
import { protocolVersions } from '@/lib/store/protocol';
import { contrastsOfPairs } from '@/lib/store/rankingContrasts';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import { shownLabel } from '../counted/countedLabel';
import { keyPart, readPage } from '../keyset';
import { addressNow } from '../names/movedAddress';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { progressOfJob, type WorkProgress } from '../work/progress';
import { withNamedPlaces } from './namedPlaces';
import {
  baselinesOf,
  heldAgainst,
  type NamedRow,
  passes,
  plainSetup,
  type RankedSetup,
  rankedSetup,
  type SetupFilter,
} from './rankedSetup';
import { type GroupedBy, groupOf, inGroups, type RankingGroup, readGroups } from './rankingGroups';

export interface RankingQuery extends SetupFilter {
  classKey?: string | undefined;
  world?: string | undefined;
  from?: string | undefined;
  by?: GroupedBy | undefined;
  /** Only this group of them. */
  group?: string | undefined;
  /** By plain means as measured. */
  isRaw?: boolean;
  /** Key of a band of air temperature, label of a version of the protocol: by plain means of such runs. */
  temperature?: string | undefined;
  protocol?: string | undefined;
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
  /** Of all setups of the class with a place, before filters. */
  rankedOf: number;
  /** Why ranked setups stand in order without a place, and what would change that. */
  placeless: string | undefined;
  /** A page of those that pass the filters: `before` it are so many of the `total`. */
  ranked: RankedSetup[];
  by: GroupedBy;
  /** The same in groups, each with what cannot be told apart in it. */
  groups: RankingGroup[];
  /** Set where the rows are plain means of some runs, not estimates of the fit. */
  plain: { isRaw: boolean; temperature: TemperatureBand | undefined; protocol: string | undefined } | null;
  pages: { before: number; total: number; previous: string | undefined; next: string | undefined };
  /** The first of so many. */
  notRanked: RankedSetup[];
  notRankedOf: number;
  filters: {
    bodyClasses: string[];
    models: { slug: string; name: string }[];
    levels: { value: string; label: string }[];
    protocols: string[];
  };
  /** The newest refit of the class that was asked for; null when none is on record. */
  refit: Awaited<ReturnType<typeof latestJob>>;
  mayRefit: boolean;
  /** How far it is, for those who may ask for one. */
  progress: WorkProgress | null;
}

const MOST_SHOWN = 100;

/** Ranked setups from the place that a cursor names, by the setup beside it, so that a new fit loses no place. */
export async function pageOfRanked<Setup extends { slug: string }>(
  all: readonly Setup[],
  from: string | undefined,
) {
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
  asked: RankingQuery,
  actor?: Actor,
): Promise<RankingView | undefined> {
  const query = { ...asked, modelSlug: await addressNow(registry, 'model', asked.modelSlug) };
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const fit = await currentFit(registry.db, chosen.group);
  const key = comparisonGroupKey(chosen.group.cruiseClassKey, chosen.group.world);
  const [stored, refit, protocols] = await Promise.all([
    fit === null ? [] : estimatesOf(registry.db, fit.id),
    latestJob(registry.db, 'refit', key),
    protocolVersions(registry.db),
  ]);
  const rows = await withNamedPlaces(registry, stored);
  const summary = fit?.summary;
  const by = query.by ?? 'model';
  const plain = plainOf(query);
  const baselines = baselinesOf(rows);
  const passing = rows
    .filter((row) => passes(row, plain === null ? query : { ...query, leastRuns: 0, leastCars: 0 }))
    .map((row) => rankedSetup(row, baselines.get(row.setup.model.slug)))
    .filter((setup) => query.group === undefined || groupOf(setup, by).key === query.group);
  const shown = inGroups(
    plain === null ? passing : await asPlainMeans(registry, chosen, plain, query, passing),
    by,
  );
  const { rows: page, ...pages } = await pageOfRanked(
    shown.filter((row) => row.isRanked),
    query.from,
  );
  const notRankedOf = shown.filter((row) => !row.isRanked);
  const [ranked = [], notRanked = []] =
    plain === null && fit !== null
      ? await heldAgainstBaselines(registry, fit, [page, notRankedOf.slice(0, MOST_SHOWN)])
      : [page, []];
  const rankedOf = rows.filter((row) => row.rankLower !== null).length;
  const isToldApart = plain === null && fit !== null;
  const mayRefit = may(actor, 'refitRankings', undefined, chosen.group.world);
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
    rankedOf,
    placeless:
      plain === null
        ? placelessText(
            rows.filter((row) => row.isRanked),
            rankedOf,
          )
        : undefined,
    ranked,
    by,
    groups: await readGroups(registry, isToldApart ? fit.id : undefined, ranked, by),
    plain,
    pages,
    notRanked,
    notRankedOf: notRankedOf.length,
    filters: { ...filterChoices(rows), protocols: protocols.map(({ label }) => label) },
    refit,
    mayRefit,
    progress: mayRefit ? await progressOfJob(registry.db, 'refit', key) : null,
  };
}

function plainOf({ isRaw = false, temperature, protocol }: RankingQuery): RankingView['plain'] {
  const band = temperatureBandOf(temperature);
  if (!isRaw && band === undefined && protocol === undefined) return null;
  return { isRaw, temperature: band, protocol };
}

/**
 * The setups by plain means of the runs that pass. Estimates come from a fit of the whole class: no filter of runs can
 * be put on them afterwards, and a fit of what a filter leaves would be another one, with other words, at each address.
 */
async function asPlainMeans(
  registry: Registry,
  { group }: ChosenGroup,
  plain: NonNullable<RankingView['plain']>,
  { leastRuns = 0, leastCars = 0 }: RankingQuery,
  setups: readonly RankedSetup[],
): Promise<RankedSetup[]> {
  const methodVersion = await shownLabel(registry.db, group.world);
  const means = await plainMeans(
    registry.db,
    { ...group, methodVersion },
    { temperature: plain.temperature ?? null, protocol: plain.protocol ?? null },
  );
  return setups
    .flatMap((setup) => {
      const mean = means.get(setup.setupId);
      return mean === undefined || mean.runs < leastRuns || mean.cars < leastCars
        ? []
        : [plainSetup(setup, mean, plain.isRaw)];
    })
    .sort((a, b) => a.estimateWhPerKm - b.estimateWhPerKm);
}

/** Lists of setups, each with its difference from its model as delivered. */
async function heldAgainstBaselines(
  registry: Registry,
  fit: { id: string; summary: FitSummary | undefined },
  lists: readonly (readonly RankedSetup[])[],
): Promise<RankedSetup[][]> {
  const pairs = lists.flat().flatMap(({ setupId, baseline }) => {
    return baseline === null || baseline.setupId === setupId ? [] : [[baseline.setupId, setupId] as const];
  });
  const [contrasts, protocol] = await Promise.all([
    contrastsOfPairs(registry.db, fit.id, pairs),
    activeProtocol(registry),
  ]);
  const { carsAcrossModels } = protocol.parameters.ranking;
  return lists.map((list) =>
    list.map((setup) => heldAgainst(setup, contrasts, fit.summary, carsAcrossModels)),
  );
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
function connectedGroups(rows: readonly NamedRow[]): RankingView['fit']['connected'] {
  const groups = new Map<number, { model: string; setups: number }>();
  for (const { component, setup } of rows) {
    const group = groups.get(component) ?? { model: modelInText(setup.model), setups: 0 };
    group.setups += 1;
    groups.set(component, group);
  }
  return [...groups.values()].sort((a, b) => b.setups - a.setups || a.model.localeCompare(b.model));
}

function filterChoices(rows: readonly NamedRow[]): Omit<RankingView['filters'], 'protocols'> {
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
