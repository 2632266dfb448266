import type { Place } from '@/lib/answers/placeText';
import { modelInText } from '@/lib/run/modelWords';
import { tyreKindOf } from '@/lib/run/tyreKind';
import { findContrast, type PairContrast } from '@/lib/stats/orientedContrast';
import { pairSides, type StatedDifference, stateDifference } from '@/lib/stats/statedDifference';
import type { FitSummary } from '@/lib/stats/stored';
import type { EstimateRow, ShownEstimate } from '@/lib/store/fits';
import type { PlainMean } from '@/lib/store/plainMeans';

export interface RankedSetup extends ShownEstimate, Place {
  setupId: string;
  slug: string;
  title: string;
  model: string;
  modelSlug: string;
  bodyClass: string;
  missing: { what: string; have: number; need: number }[];
  chanceOfLowest: number | null;
  component: number;
  /** Its model as delivered, where that has been driven in the class. */
  baseline: BaselineOfModel | null;
  /** The difference from it; null for the baseline itself, and where means are plain. */
  against: StatedDifference | null;
}

/** An estimate with the testers named that its place hangs on. */
export type NamedRow = Omit<EstimateRow, 'held'> & Pick<Place, 'held'>;

export interface BaselineOfModel {
  setupId: string;
  slug: string;
  title: string;
  cars: number;
  testers: number;
}

/** What the rows of a ranking may be narrowed to, besides its runs. */
export interface SetupFilter {
  bodyClass?: string | undefined;
  tyreKind?: string | undefined;
  modelSlug?: string | undefined;
  /** "factor:level key" */
  level?: string | undefined;
  leastRuns?: number | undefined;
  leastCars?: number | undefined;
}

export function passes(row: NamedRow, query: SetupFilter): boolean {
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
function kindOfTyres({ setup }: NamedRow): string {
  return tyreKindOf(...setup.levels.map(({ level }) => level.tyreKind), setup.model.levels[0]?.tyreKind);
}

/** The setups of a class that are as delivered, by model. */
export function baselinesOf(rows: readonly NamedRow[]): Map<string, BaselineOfModel> {
  const delivered = rows.filter(({ setup }) => setup.levels.every(({ level }) => level.isBaseline));
  return new Map(
    delivered.map(({ setupId, setup, cars, testers }) => [
      setup.model.slug,
      { setupId, slug: setup.slug, title: setup.title, cars, testers },
    ]),
  );
}

export function rankedSetup(row: NamedRow, baseline: BaselineOfModel | undefined): RankedSetup {
  const { setup, logMean: _mean, logSe: _se, dof: _dof, ...rest } = row;
  return {
    ...rest,
    slug: setup.slug,
    title: setup.title,
    model: modelInText(setup.model),
    modelSlug: setup.model.slug,
    bodyClass: setup.model.bodyClass,
    baseline: baseline ?? null,
    against: null,
  };
}

/** The same with what the fit says of it against its model as delivered. */
export function heldAgainst(
  setup: RankedSetup,
  contrasts: readonly PairContrast[],
  summary: FitSummary | undefined,
  leastCars: number,
): RankedSetup {
  const { baseline, setupId } = setup;
  if (baseline === null || baseline.setupId === setupId) return setup;
  const contrast = findContrast(contrasts, baseline.setupId, setupId);
  const sides = pairSides(baseline, setup, leastCars);
  return { ...setup, against: stateDifference(contrast, sides, summary) };
}

/** The same by plain means of some of its runs: no interval, no place, no word. */
export function plainSetup(setup: RankedSetup, mean: PlainMean, isRaw: boolean): RankedSetup {
  const { runs, cars, testers, loops, days, normalisedWhPerKm, rawWhPerKm } = mean;
  return {
    ...setup,
    runs,
    cars,
    testers,
    loops,
    days,
    estimateWhPerKm: isRaw ? rawWhPerKm : normalisedWhPerKm,
    rawMeanWhPerKm: rawWhPerKm,
    lowWhPerKm: null,
    highWhPerKm: null,
    intervalKind: 'none',
    isRanked: true,
    label: '',
    missing: [],
    rankLower: null,
    rankUpper: null,
    held: { restsOn: [], without: null },
    chanceOfLowest: null,
  };
}
