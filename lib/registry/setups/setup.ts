import type { AnswerNumbers } from '@/lib/answers/answer';
import type { Place } from '@/lib/answers/placeText';
import type { RangePromise } from '@/lib/answers/shownRange';
import { modelWords } from '@/lib/run/modelWords';
import { differingFactors, type LevelWords } from '@/lib/run/setupLevels';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { estimatesOfSetup, type ShownEstimate } from '@/lib/store/fits';
import { rankedByClass } from '@/lib/store/publicPages';
import type { SetupClassCounts } from '@/lib/store/setupPages';
import { setupBySlug } from '@/lib/store/setups';
import { promisedRanges } from '../comparisons/promisedRanges';
import { type ModelSetup, readModelSetups } from '../models/modelSetups';
import { withNamedPlaces } from '../rankings/namedPlaces';
import type { Registry } from '../registry';
import { type PublicRunPage, readPublicRunPage } from '../runs/publicRuns';
import { readAgainstBaseline } from './againstBaseline';
import { type RunDensity, readSetupSessions, type SetupSession } from './setupSessions';
import { carKeysOf, readKeptSpread, type SetupSpread, SPREAD_DUE, shownSpread } from './setupSpread';

export interface ClassEstimate extends ShownEstimate, Place {
  classKey: string;
  classLabel: string;
  missing: { what: string; have: number; need: number }[];
  /** Setups with a place in the class. */
  rankedOf: number;
  /** Whether the class's fit did. */
  converged: boolean;
  /** What speaks against its intervals; null where that is not known. */
  faults: Fault[] | null;
  fittedAt: Date;
}

export interface SetupView {
  slug: string;
  title: string;
  world: WorldKey;
  model: string;
  modelSlug: string;
  levels: LevelWords[];
  baseline: ModelSetup | undefined;
  isBaseline: boolean;
  /** Factors on which it differs from the baseline. */
  differsIn: string[];
  /** Other setups of the model that were driven, those with most runs first; the model's page has all. */
  siblings: ModelSetup[];
  estimates: ClassEstimate[];
  /** The class whose runs are drawn. */
  chosen: ClassEstimate | undefined;
  /** What it does against the baseline in that class; undefined for the baseline and where either was not driven. */
  againstBaseline: AnswerNumbers | undefined;
  /** Its approved runs; `notNormalised` of them lie outside the method's reach. */
  counts: SetupClassCounts;
  /** The latest where there are too many to draw, and then how all runs lie. */
  sessions: SetupSession[];
  density: RunDensity | undefined;
  spread: SetupSpread | typeof SPREAD_DUE | undefined;
  runs: PublicRunPage;
  /** What its displays promised beside what the same runs gave, in the chosen class; undefined with too few such runs. */
  promise: RangePromise | undefined;
}

const MOST_SIBLINGS = 30;

/** A setup: its levels, its estimate in every class, and the runs behind the one chosen. */
export async function readSetup(
  registry: Registry,
  slug: string,
  { classKey: wantedClass, from }: { classKey?: string | undefined; from?: string | undefined } = {},
): Promise<SetupView | undefined> {
  if (!isSlug(slug)) return undefined;
  const setup = await setupBySlug(registry.db, slug);
  if (setup === null) return undefined;
  const [found, stored, ranked] = await Promise.all([
    readModelSetups(registry, setup.model.slug),
    estimatesOfSetup(registry.db, setup.id),
    rankedByClass(registry.db, worldKey(setup.world)),
  ]);
  const own = found?.setups.find((candidate) => candidate.setupId === setup.id);
  const baseline = found?.baseline;
  const estimates = (await withNamedPlaces(registry, stored))
    .filter(({ fit }) => fit.group.world === setup.world)
    .map(({ fit, missing, ...estimate }) => ({
      ...estimate,
      missing,
      classKey: fit.group.cruiseClass.key,
      classLabel: fit.group.cruiseClass.label,
      rankedOf: ranked.get(fit.group.cruiseClass.key) ?? 0,
      converged: fit.converged,
      faults: fit.faults,
      fittedAt: fit.fittedAt,
      speedMps: fit.group.cruiseClass.speedMps,
    }))
    .sort((a, b) => a.speedMps - b.speedMps);
  const most = estimates.reduce<(typeof estimates)[number] | undefined>(
    (a, b) => (a && a.runs >= b.runs ? a : b),
    undefined,
  );
  const chosen = estimates.find(({ classKey }) => classKey === wantedClass) ?? most;
  const filter = { setupIds: [setup.id], world: worldKey(setup.world) };
  const kept = chosen && (await readKeptSpread(registry, setup, chosen.classKey));
  const isBaseline = baseline?.setupId === setup.id;
  const [inClass, runs, againstBaseline, promises] = await Promise.all([
    chosen && readSetupSessions(registry, setup, chosen.classKey, kept ? carKeysOf(kept) : []),
    readPublicRunPage(registry, chosen ? { ...filter, cruiseClassKey: chosen.classKey } : filter, from),
    chosen && baseline && !isBaseline
      ? readAgainstBaseline(registry, { setupId: setup.id, slug: setup.slug }, baseline, {
          cruiseClassKey: chosen.classKey,
          world: worldKey(setup.world),
        })
      : undefined,
    chosen &&
      promisedRanges(registry, { cruiseClassKey: chosen.classKey, world: worldKey(setup.world) }, [setup.id]),
  ]);
  return {
    slug: setup.slug,
    title: setup.title,
    world: worldKey(setup.world),
    model: modelWords(setup.model),
    modelSlug: setup.model.slug,
    levels: own?.levels ?? [],
    baseline,
    isBaseline,
    differsIn: own && baseline ? differingFactors(baseline.levels, own.levels) : [],
    siblings: (found?.setups ?? [])
      .filter((sibling) => sibling.setupId !== setup.id && sibling.runs > 0)
      .sort((a, b) => b.runs - a.runs)
      .slice(0, MOST_SIBLINGS),
    estimates,
    chosen,
    againstBaseline,
    counts: inClass?.counts ?? { runs: 0, notNormalised: 0, sessions: 0, cars: 0 },
    sessions: inClass?.sessions ?? [],
    density: inClass?.density,
    spread: inClass && (kept ? shownSpread(kept, inClass.sessions, inClass.cars) : SPREAD_DUE),
    runs,
    promise: promises?.get(setup.id),
  };
}
