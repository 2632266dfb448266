import { COMPONENT_COUNT, COMPONENTS } from './accumulate';
import { fitClassComponents } from './classComponents';
import { Clusters, clustersOfCars, lowerWordsThatRestOnOne } from './clusterInfluence';
import type { FittedComponents } from './components';
import { Links } from './connectivity';
import { type ContrastTable, tabulateContrasts } from './contrasts';
import { countSetups, describeEstimate, type EstimateContext, type SetupCounts } from './estimates';
import { largestValue } from './evidence';
import { describeComponents, describeRepeats } from './fitNotes';
import type { FitRow } from './fitRow';
import type { DfTerms, Estimate, FitOptions, GroupFit, MinimumCounts, Rank, Repeatability } from './groupFit';
import { carsOnTwoLoops, replicatedCells } from './groupLayout';
import { HeldEquations } from './heldEquations';
import { infer } from './inference';
import { type Draws, drawCorrelated } from './maxT';
import { ranksWithoutOne } from './ranksWithoutOne';
import { tabulateRanks } from './rankTable';
import { columnsOf, nameAt, type RunColumns, rowAt } from './runColumns';
import { screenRows } from './screenRows';
import { type ReadyColumns, readyColumns } from './sessionSpread';
import { type SharedEffect, sharedCovariance, sharedEffects } from './sharedEffects';
import { spreadCovariance } from './spreadCovariance';
import { layOutColumns } from './structure';
import type { Tie } from './testerClusters';
import { type TotalInference, totalOf } from './totalInference';

export type { FitOptions, GroupFit } from './groupFit';

/** Default counts asked before a setup is ranked; the registry's protocol may set others (method B4, B5). */
export const DEFAULT_MINIMUM_COUNTS: MinimumCounts = { runs: 2, sessions: 2, cars: 3 };

/** Above this many setups the simultaneous intervals fall back on Šidák's bound (method B6). */
const MOST_SIMULATED_SETUPS = 300;

/** Above this many the terms would outweigh all else that is kept of a fit. */
const MOST_SETUPS_WITH_DF_TERMS = 60;

/**
 * Fits one comparison group: z = setup + car + car on a loop + session + run, with known run variances u², by REML;
 * then the estimates with what the runs share by model and method, all pairwise differences with three intervals and
 * the word for each, and rank sets.
 *
 * Invalid rows are excluded with a reason, never silently: `nIn` = `nUsed` + `excluded.length`.
 *
 * @param runs in columns; a few may as well come one by one
 */
export function fitGroup(runs: RunColumns | readonly FitRow[], options: FitOptions = {}): GroupFit {
  const given = columnsOf(runs);
  const { used: screened, excluded } = screenRows(given);
  const used = readyColumns(screened);
  const level = options.level ?? 0.95;
  const seed = options.seed ?? 1;
  const structure = layOutColumns(used);
  const links = new Links(structure);
  const head = { nIn: given.count, nUsed: used.count, setups: structure.setups, excluded, seed, level };
  if (used.count === 0) return emptyFit(head);

  const { fitted, wanted, moderation } = fitClassComponents(structure, used, options);
  const shared = fitted.at === null ? [] : sharedEffects(fitted.problem, fitted.at, used.shared);
  const inference = inferenceOf(fitted, shared, used);
  const modelOf = modelNames(used, options.modelOf);
  const minimum = options.minimumCounts ?? DEFAULT_MINIMUM_COUNTS;
  const counts = countSetups(used);
  const carVariationUnknown = wanted.car && fitted.unidentified.includes('car');
  const unvouched = setupsUnvouched(used, options.isVouched);
  const context: Omit<EstimateContext, 'acrossModels' | 'isUnvouched'> = {
    inference,
    level,
    minimum,
    carVariationUnknown,
    sessionsMatter: wanted.session,
    carsMatter: wanted.car,
    repeatabilityAssumed: inference !== null && moderation.residual !== undefined,
    wholeVariance: inference === null ? null : wholeVariance(fitted),
  };
  const models = new Set(structure.setups.map(modelOf));
  const estimates = structure.setups.map((setup, k) =>
    describeEstimate(setup, k, counts.get(setup) as SetupCounts, {
      ...context,
      acrossModels: models.size > 1,
      isUnvouched: unvouched.has(setup),
    }),
  );
  const m = structure.setups.length;
  const draws =
    inference === null || m < 2 || m > MOST_SIMULATED_SETUPS
      ? null
      : drawCorrelated(inference.covariance, m, options.draws ?? 20_000, seed);
  const leastCars = minimum.cars;
  const table = tabulateContrasts({
    inference,
    links,
    estimates,
    modelOf,
    leastCars,
    carVariationUnknown,
    level,
    draws,
  });
  const clusters = fitted.at === null ? undefined : clustersOf(used, fitted, options.ties);
  if (clusters !== undefined) {
    lowerWordsThatRestOnOne(table.contrasts, clusters);
    for (const estimate of estimates) estimate.restsOn = clusters.restsOnFor(estimate.setup);
  }
  const { ofClass, ofModels } = table.families;
  return {
    ...head,
    components: fitted.components,
    origins: fitted.origins,
    componentCovariance: toRows(fitted.covariance, COMPONENT_COUNT),
    cars: structure.cars,
    carsOnTwoLoops: carsOnTwoLoops(structure),
    pooledFrom: fitted.borrowed === undefined ? null : (options.pooledCarLoop?.from ?? null),
    unidentified: fitted.unidentified,
    notes: [...describeComponents(fitted, moderation, options.pooledCarLoop), ...describeRepeats(screened)],
    remlCriterion: fitted.at?.deviance ?? null,
    converged: fitted.converged,
    evaluations: fitted.evaluations,
    boundary: fitted.boundary,
    dfMethod: fitted.method,
    residualDf: structure.runs - fitted.problem.p,
    replicatedCells: replicatedCells(structure),
    estimates,
    covariance: inference === null ? [] : toRows(inference.covariance, m),
    sharedEffects: shared,
    spreadRatio: spreadRatio(fitted, used),
    dfTerms: inference === null || m > MOST_SETUPS_WITH_DF_TERMS ? null : dfTerms(inference, fitted),
    contrasts: table.contrasts,
    criticalValue: ofClass === null ? null : largestValue(ofClass, table.pairs),
    modelCriticalValues: [...ofModels].map(([model, family]) => ({
      model,
      ...largestValue(
        family,
        table.pairs.filter((pair) => pair.model === model),
      ),
    })),
    ranks: inference === null ? [] : ranksOf(estimates, table, draws, clusters),
    connectivity: links.connectivity,
    repeatability: inference === null ? null : repeatabilityOf(fitted, used),
  };
}

/** Which testers count as one, with the equations that tell what each moves; undefined where no run says who drove. */
function clustersOf(
  runs: RunColumns,
  { components }: FittedComponents,
  ties: readonly Tie[] = [],
): Clusters | undefined {
  if (runs.tester.names.length === 0) return undefined;
  const rows = Array.from({ length: runs.count }, (_, i) => rowAt(runs, i));
  const driven = rows.flatMap(({ car, tester }) => (tester === undefined ? [] : [{ car, tester }]));
  return new Clusters(new HeldEquations(rows, components), clustersOfCars(driven, ties));
}

function ranksOf(
  estimates: readonly Estimate[],
  table: ContrastTable,
  draws: Draws | null,
  clusters: Clusters | undefined,
): Rank[] {
  const ranks = tabulateRanks(estimates, table, draws);
  if (clusters === undefined || ranks.length < 2) return ranks;
  const without = ranksWithoutOne(ranks, table.contrasts, clusters);
  return ranks.map((rank) => ({ ...rank, without: without.get(rank.setup) ?? null }));
}

/** Setups that nobody drove whom somebody vouches for; a run that does not say who drove it asks for no voucher. */
function setupsUnvouched(
  { count, setup, tester }: RunColumns,
  isVouched: ((tester: string) => boolean) | undefined,
): Set<string> {
  if (isVouched === undefined) return new Set();
  const vouched = tester.names.map(isVouched);
  const known = new Set<number>();
  for (let i = 0; i < count; i++) {
    const by = tester.codes[i] as number;
    if (by < 0 || vouched[by]) known.add(setup.codes[i] as number);
  }
  return new Set(setup.names.filter((_, code) => !known.has(code)));
}

function inferenceOf(
  fitted: FittedComponents,
  shared: readonly SharedEffect[],
  { spread }: ReadyColumns,
): TotalInference | null {
  if (fitted.at === null || fitted.method === 'none') return null;
  const own = infer(fitted.problem, fitted.at, {
    method: fitted.method,
    free: fitted.free,
    interior: fitted.interior,
    ...(fitted.borrowed === undefined ? {} : { borrowed: fitted.borrowed }),
  });
  const within = spread === null ? null : spreadCovariance(fitted.problem, fitted.at, spread);
  return totalOf(own, sharedCovariance(shared, own.m), within);
}

/** V without what is known of sessions is nowhere less than V over the largest (v + u² + w)/(v + u²). */
function spreadRatio({ components: { residual } }: FittedComponents, { u, spread }: ReadyColumns): number {
  if (spread === null) return 1;
  return spread.variance.reduce((most, w, run) => {
    const whole = residual + (u[run] as number) ** 2;
    return Math.max(most, whole / (whole - w));
  }, 1);
}

function dfTerms({ own }: TotalInference, { problem }: FittedComponents): DfTerms {
  return {
    sensitivities: own.sensitivities.map((one) => Array.from(one)),
    componentCovariance: toRows(
      own.varianceCovariance.map((x) => x * problem.scale ** 4),
      COMPONENT_COUNT,
    ),
  };
}

/** v_T + v_C + v_S + v and the sampling variance of the sum. */
function wholeVariance({ components, covariance, borrowed }: FittedComponents) {
  return {
    variance: COMPONENTS.reduce((sum, name) => sum + components[name], 0),
    varianceOfVariance: covariance.reduce((sum, x) => sum + x, 0) + (borrowed?.variance ?? 0),
  };
}

function modelNames(
  { count, setup, model }: RunColumns,
  given: ((setup: string) => string) | undefined,
): (setup: string) => string {
  const named = new Map<string, string | undefined>();
  for (let i = 0; i < count; i++)
    named.set(setup.names[setup.codes[i] as number] as string, nameAt(model, i));
  return (setup) => named.get(setup) ?? given?.(setup) ?? '';
}

function toRows(flat: Float64Array, n: number): number[][] {
  return Array.from({ length: n }, (_, i) => Array.from(flat.subarray(i * n, (i + 1) * n)));
}

/**
 * s_r² = v + mean u², s_R² = v + v_C + v_S + v_T + mean u²; limits 2.8 s, that is 1.96 √2 rounded (ISO 5725-6:1994,
 * 4.1). Without u² the stated repeatability limit would hold for 90 % of pairs, not 95 %.
 */
function repeatabilityOf(fitted: FittedComponents, { count, u }: RunColumns): Repeatability {
  const { car, carLoop, session, residual } = fitted.components;
  const meanKnownVariance = u.reduce((sum, own) => sum + own * own, 0) / count;
  const sr = Math.sqrt(residual + meanKnownVariance);
  const sR = Math.sqrt(residual + session + carLoop + car + meanKnownVariance);
  return { sr, sR, r: 2.8 * sr, R: 2.8 * sR, meanKnownVariance };
}

type Head = Pick<GroupFit, 'nIn' | 'nUsed' | 'setups' | 'excluded' | 'seed' | 'level'>;

function emptyFit(head: Head): GroupFit {
  return {
    ...head,
    components: { car: 0, carLoop: 0, session: 0, residual: 0 },
    origins: { car: 'none', carLoop: 'none', session: 'none', residual: 'none' },
    componentCovariance: toRows(new Float64Array(COMPONENT_COUNT ** 2), COMPONENT_COUNT),
    cars: 0,
    carsOnTwoLoops: 0,
    pooledFrom: null,
    unidentified: [],
    notes: ['there are no runs to fit'],
    remlCriterion: null,
    converged: true,
    evaluations: 0,
    boundary: [],
    dfMethod: 'none',
    residualDf: 0,
    replicatedCells: 0,
    estimates: [],
    covariance: [],
    sharedEffects: [],
    spreadRatio: 1,
    dfTerms: null,
    contrasts: [],
    criticalValue: null,
    modelCriticalValues: [],
    ranks: [],
    connectivity: { bySession: [], byCar: [] },
    repeatability: null,
  };
}
