import { findContrast, type PairContrast } from '@/lib/stats/orientedContrast';
import { pairSides, type StatedDifference, stateDifference } from '@/lib/stats/statedDifference';
import { readHeldPlace, readMissing } from '@/lib/stats/stored';
import type { Row } from '../column';
import { otherModel, otherSetup, otherTester } from './names';

/** The setups of another registry in one class, from the rows that it published. Nothing is computed but words. */

export interface OtherRanked {
  setupId: string;
  /** Its address here; there is no name. */
  slug: string;
  title: string;
  model: string;
  modelSlug: string;
  bodyClass: string;
  runs: number;
  cars: number;
  testers: number;
  loops: number;
  days: number;
  estimateWhPerKm: number;
  lowWhPerKm: number | null;
  highWhPerKm: number | null;
  intervalKind: string;
  rawMeanWhPerKm: number;
  isRanked: boolean;
  label: string;
  missing: { what: string; have: number; need: number }[];
  rankLower: number | null;
  rankUpper: number | null;
  chanceOfLowest: number | null;
  component: number;
  /** What of its place hangs on testers who count as one, by their pseudonyms. */
  held: {
    restsOn: readonly string[];
    without: { names: readonly string[]; lower: number; upper: number } | null;
  };
  baseline: { setupId: string; slug: string; title: string; cars: number; testers: number } | null;
  against: StatedDifference | null;
}

export interface OtherThings {
  setups: ReadonlyMap<string, Row>;
  levels: ReadonlyMap<string, readonly Row[]>;
  models: ReadonlyMap<string, Row>;
}

/** In the order of the estimates, the lowest first. */
export function otherRanked(
  estimates: readonly Row[],
  { setups, levels, models }: OtherThings,
): OtherRanked[] {
  const rows = estimates.flatMap((estimate) => {
    const setupId = String(estimate.setup_id);
    const model = models.get(String(setups.get(setupId)?.model_id));
    if (model === undefined) return [];
    const own = levels.get(setupId) ?? [];
    return [{ ranked: rankedOf(estimate, setupId, model, own), isAsDelivered: own.every(isBaseline) }];
  });
  const delivered = new Map(
    rows.flatMap(({ ranked: { setupId, slug, title, cars, testers, modelSlug }, isAsDelivered }) =>
      isAsDelivered ? [[modelSlug, { setupId, slug, title, cars, testers }]] : [],
    ),
  );
  return rows
    .map(({ ranked }) => ({ ...ranked, baseline: delivered.get(ranked.modelSlug) ?? null }))
    .sort((a, b) => a.estimateWhPerKm - b.estimateWhPerKm);
}

const isBaseline = ({ is_baseline }: Row) => is_baseline === true;

function rankedOf(row: Row, setupId: string, model: Row, levels: readonly Row[]): OtherRanked {
  const { restsOn, without } = readHeldPlace({ restsOn: row.rests_on, without: row.without });
  const number = (name: string) => Number(row[name]);
  const perhaps = (name: string) => (typeof row[name] === 'number' ? row[name] : null);
  return {
    setupId,
    slug: setupId,
    title: otherSetup(levels),
    model: otherModel(model),
    modelSlug: String(model.model_id),
    bodyClass: String(model.body_class),
    runs: number('runs'),
    cars: number('cars'),
    testers: number('testers'),
    loops: number('loops'),
    days: number('days'),
    estimateWhPerKm: number('estimate_wh_per_km'),
    lowWhPerKm: perhaps('low_wh_per_km'),
    highWhPerKm: perhaps('high_wh_per_km'),
    intervalKind: String(row.interval_kind),
    rawMeanWhPerKm: number('raw_mean_wh_per_km'),
    isRanked: row.is_ranked === true,
    label: typeof row.label === 'string' ? row.label : '',
    missing: readMissing(row.missing),
    rankLower: perhaps('rank_lower'),
    rankUpper: perhaps('rank_upper'),
    chanceOfLowest: perhaps('chance_of_lowest'),
    component: number('component'),
    held: {
      restsOn: restsOn.map(otherTester),
      without: without && {
        names: without.testers.map(otherTester),
        lower: without.lower,
        upper: without.upper,
      },
    },
    baseline: null,
    against: null,
  };
}

/** A published difference as the sentences of pages take it. */
export function otherContrast(row: Row): PairContrast {
  const perhaps = (name: string) => (typeof row[name] === 'number' ? row[name] : null);
  const words = (name: string) => (typeof row[name] === 'string' ? row[name] : null);
  return {
    setupAId: String(row.setup_a),
    setupBId: String(row.setup_b),
    kind: String(row.kind),
    chainLength: Number(row.chain_length),
    differenceLog: perhaps('difference_log'),
    logSe: perhaps('log_se'),
    dof: perhaps('dof'),
    lowLog: perhaps('low_log'),
    highLog: perhaps('high_log'),
    simultaneousLowLog: perhaps('simultaneous_low_log'),
    simultaneousHighLog: perhaps('simultaneous_high_log'),
    modelLowLog: perhaps('model_low_log'),
    modelHighLog: perhaps('model_high_log'),
    word: words('word'),
    restsOn: Array.isArray(row.rests_on) ? row.rests_on.map(String) : [],
    otherWays: undefined,
    sharedULog: perhaps('shared_u_log'),
    reason: words('reason'),
  };
}

/** The same with what their fit says of it against its model as delivered. */
export function otherAgainst(setup: OtherRanked, contrasts: readonly PairContrast[], fit: Row): OtherRanked {
  const { baseline, setupId } = setup;
  if (baseline === null || baseline.setupId === setupId) return setup;
  const contrast = findContrast(contrasts, baseline.setupId, setupId);
  const sides = pairSides(baseline, setup, Number(fit.least_cars));
  return { ...setup, against: stateDifference(contrast, sides, spreadOf(fit)) };
}

type FitOfStated = Parameters<typeof stateDifference>[2];

/** How many more days would settle a difference is theirs to say: what it takes of the runs is not kept here. */
function spreadOf(fit: Row): FitOfStated {
  const origins = fit.origins as NonNullable<FitOfStated>['origins'];
  return {
    repeatability: null,
    components: {
      car: Number(fit.variance_car),
      carLoop: Number(fit.variance_car_loop),
      session: Number(fit.variance_session),
      residual: Number(fit.variance_run),
    },
    origins,
  };
}
