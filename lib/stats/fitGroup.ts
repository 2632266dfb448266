import type { Component } from './accumulate';
import { type FittedComponents, fitComponents } from './components';
import { Links } from './connectivity';
import { tabulateContrasts } from './contrasts';
import { countSetups, describeEstimate, type SetupCounts } from './estimates';
import type {
  FitOptions,
  FitRow,
  GroupFit,
  MinimumCounts,
  PooledComponents,
  Repeatability,
} from './groupFit';
import { layOutRows, replicatedCells } from './groupLayout';
import { infer } from './inference';
import { drawCorrelated } from './maxT';
import { prepare } from './problem';
import { tabulateRanks } from './rankTable';
import { screenRows } from './screenRows';

export type { FitOptions, FitRow, GroupFit } from './groupFit';

/** Default counts asked before a setup is ranked; the registry's protocol may set others (method B4, B5). */
export const DEFAULT_MINIMUM_COUNTS: MinimumCounts = { runs: 2, sessions: 2, cars: 3 };

/** Above this many setups the simultaneous intervals fall back on Šidák's bound (method B6). */
const MOST_SIMULATED_SETUPS = 300;

/**
 * Fits one comparison group: z = setup + car + session + run, with known run variances u², by REML; then the
 * estimates, all pairwise differences with simultaneous intervals, and rank sets.
 *
 * Invalid rows are excluded with a reason, never silently: `nIn` = `nUsed` + `excluded.length`.
 */
export function fitGroup(rows: readonly FitRow[], options: FitOptions = {}): GroupFit {
  const { used, excluded } = screenRows(rows);
  const level = options.level ?? 0.95;
  const seed = options.seed ?? 1;
  const drop = options.drop ?? [];
  const wanted = { car: !drop.includes('car'), session: !drop.includes('session'), residual: true };
  const structure = layOutRows(used);
  const links = new Links(structure);
  const head = { nIn: rows.length, nUsed: used.length, setups: structure.setups, excluded, seed, level };
  if (used.length === 0) return emptyFit(head);

  const problem = prepare(structure);
  const fitted = fitComponents(problem, wanted, options.pooledComponents, options.start);
  const inference =
    fitted.at === null || fitted.method === 'none'
      ? null
      : infer(fitted.problem, fitted.at, {
          method: fitted.method,
          free: fitted.free,
          interior: fitted.interior,
          pooledCovariance: fitted.covariance,
        });
  const counts = countSetups(used);
  const sameModel = options.sameModel ?? modelComparison(options.modelOf);
  const carVariationUnknown = wanted.car && fitted.unidentified.includes('car');
  const minimum = options.minimumCounts ?? DEFAULT_MINIMUM_COUNTS;
  const replicated = replicatedCells(structure);
  const residualDf = structure.runs - problem.p;
  const repeatabilitySource =
    inference === null
      ? null
      : {
          variance: fitted.components.residual,
          cells: fitted.pooled ? (options.pooledComponents?.cells ?? 0) : replicated,
          df: fitted.pooled ? (options.pooledComponents?.residualDf ?? 0) : residualDf,
        };
  const estimates = structure.setups.map((setup, k) =>
    describeEstimate(setup, k, counts.get(setup) as SetupCounts, {
      inference,
      level,
      minimum,
      acrossModels: structure.setups.some((other) => !sameModel(setup, other)),
      carVariationUnknown,
      sessionsMatter: wanted.session,
      carsMatter: wanted.car,
      repeatability: repeatabilitySource,
    }),
  );
  const m = structure.setups.length;
  const draws =
    inference === null || m < 2 || m > MOST_SIMULATED_SETUPS
      ? null
      : drawCorrelated(inference.covariance, m, options.draws ?? 20_000, seed);
  const table = tabulateContrasts({
    inference,
    links,
    estimates,
    sameModel,
    leastCars: minimum.cars,
    carVariationUnknown,
    level,
    draws,
    sharedParts: options.sharedParts,
  });
  return {
    ...head,
    components: fitted.components,
    componentCovariance: toRows(fitted.covariance, 3),
    pooled: fitted.pooled,
    pooledFrom: fitted.pooled ? (options.pooledComponents?.from ?? null) : null,
    unidentified: fitted.unidentified,
    notes: describeComponents(fitted, options.pooledComponents),
    remlCriterion: fitted.at?.deviance ?? null,
    converged: fitted.converged,
    evaluations: fitted.evaluations,
    boundary: fitted.boundary,
    dfMethod: fitted.method,
    residualDf,
    replicatedCells: replicated,
    estimates,
    covariance: inference === null ? [] : toRows(inference.covariance, m),
    contrasts: table.contrasts,
    criticalValue: table.critical,
    ranks: inference === null ? [] : tabulateRanks(estimates, table, draws, level),
    connectivity: links.connectivity,
    repeatability: inference === null ? null : repeatabilityOf(fitted, used),
  };
}

function modelComparison(
  modelOf: ((setup: string) => string) | undefined,
): (a: string, b: string) => boolean {
  return modelOf === undefined ? () => true : (a, b) => modelOf(a) === modelOf(b);
}

function toRows(flat: Float64Array, n: number): number[][] {
  return Array.from({ length: n }, (_, i) => Array.from(flat.subarray(i * n, (i + 1) * n)));
}

const COMPONENT_WORDS: Record<Component, string> = {
  car: 'car variation',
  session: 'session variation',
  residual: 'repeatability',
};

/** Among a fit's notes the one that says where its components come from. */
export function pooledNote(from: string): string {
  return `variance components pooled over ${from}`;
}

function describeComponents(fitted: FittedComponents, pooled: PooledComponents | undefined): string[] {
  const notes: string[] = [];
  if (fitted.pooled) notes.push(pooledNote(pooled?.from ?? 'a wider class'));
  if (fitted.method === 'none' && fitted.boundary.includes('residual')) {
    notes.push('runs repeat exactly and state no uncertainty, so no interval can be given');
    return notes;
  }
  for (const name of fitted.boundary) {
    notes.push(
      name === 'residual'
        ? 'repeatability beyond the known uncertainties estimated as 0'
        : `${COMPONENT_WORDS[name]} estimated as 0`,
    );
  }
  for (const name of fitted.unidentified) {
    notes.push(`${COMPONENT_WORDS[name]} cannot be told apart in these data`);
  }
  if (fitted.at !== null && !fitted.converged) notes.push('the fit did not converge');
  return notes;
}

/** s_r² = v, s_R² = v + v_S + v_T; limits 2.8 s, that is 1.96 √2 rounded (ISO 5725-6:1994, 4.1). */
function repeatabilityOf(fitted: FittedComponents, used: readonly FitRow[]): Repeatability {
  const { car, session, residual } = fitted.components;
  const sr = Math.sqrt(residual);
  const sR = Math.sqrt(residual + session + car);
  return {
    sr,
    sR,
    r: 2.8 * sr,
    R: 2.8 * sR,
    meanKnownVariance: used.reduce((sum, row) => sum + row.u * row.u, 0) / used.length,
  };
}

type Head = Pick<GroupFit, 'nIn' | 'nUsed' | 'setups' | 'excluded' | 'seed' | 'level'>;

function emptyFit(head: Head): GroupFit {
  return {
    ...head,
    components: { car: 0, session: 0, residual: 0 },
    componentCovariance: toRows(new Float64Array(9), 3),
    pooled: false,
    pooledFrom: null,
    unidentified: [],
    notes: ['there are no runs to fit'],
    remlCriterion: null,
    converged: false,
    evaluations: 0,
    boundary: [],
    dfMethod: 'none',
    residualDf: 0,
    replicatedCells: 0,
    estimates: [],
    covariance: [],
    contrasts: [],
    criticalValue: null,
    ranks: [],
    connectivity: { bySession: [], byCar: [] },
    repeatability: null,
  };
}
