import type { Variances } from './accumulate';
import { evaluate } from './criterion';
import { wordFor } from './evidence';
import type { FitRow } from './fitRow';
import type { Evidence } from './groupFit';
import { infer } from './inference';
import { regress, weighTree } from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { layOutRuns } from './structure';
import { totalContrast, totalOf } from './totalInference';

/**
 * Does an answer rest on one cluster of runs: one tester, or testers that share pictures, devices, cars or reviewers?
 * Reweighting would still let a mean move, so the fit is not reweighted: what would move it is shown (method B13).
 */
export interface ClusteredRow extends FitRow {
  cluster: string;
}

/** A setup's estimate moves by this share of a common factor on all runs of it by one cluster; the shares sum to 1. */
export interface Influence {
  setup: string;
  cluster: string;
  share: number;
}

/** Above this share an answer rests on the cluster. */
export const MOST_INFLUENCE = 0.5;

/** c_tk = [M⁻¹X'V⁻¹1_tk]_k with 1_tk the runs of setup k by cluster t, at components held. */
export function clusterInfluence(rows: readonly ClusteredRow[], components: Variances): Influence[] {
  const structure = layOutRuns(rows);
  const problem = prepareFor(structure, components);
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const tree = weighTree(problem, v);
  const found: Influence[] = [];
  structure.setups.forEach((setup, k) => {
    const clusters = new Set(rows.filter((row) => row.setup === setup).map((row) => row.cluster));
    for (const cluster of [...clusters].sort()) {
      const indicator = new Float64Array(structure.cells);
      rows.forEach((row, i) => {
        if (row.setup !== setup || row.cluster !== cluster) return;
        const cell = structure.cellOfItem[i] as number;
        indicator[cell] = (indicator[cell] as number) + 1 / (structure.count[cell] as number);
      });
      found.push({ setup, cluster, share: regress(tree, at, indicator)[k] as number });
    }
  });
  return found;
}

export interface HeldFit {
  components: Variances;
  /** Critical values of the class's and the model's family (null across models), and of the pair alone. */
  ofClass: number;
  ofModel: number | null;
  alone: number;
  /** The published word of the pair. */
  word: Evidence;
}

const WEAKER: Record<Evidence, Evidence> = {
  settled: 'probable',
  probable: 'leaning',
  leaning: 'undecided',
  undecided: 'undecided',
};

export interface RestsOn {
  /** Clusters whose influence is too large or without which the word is another. */
  clusters: string[];
  /** The published word, or the next lower where a settled difference rests on a cluster. */
  word: Evidence;
}

/**
 * Leaves out each cluster in turn, components and critical values held (M less the cluster's own, one evaluation each).
 * A settled difference that rests on one cluster gets the next lower word; across models there is no probable.
 */
export function restsOn(
  rows: readonly ClusteredRow[],
  pair: readonly [string, string],
  fit: HeldFit,
): RestsOn {
  const influential = clusterInfluence(rows, fit.components)
    .filter(({ setup, share }) => pair.includes(setup) && share > MOST_INFLUENCE)
    .map(({ cluster }) => cluster);
  const own = new Set(rows.filter((row) => pair.includes(row.setup)).map((row) => row.cluster));
  const decisive = [...own].filter((cluster) => {
    const left = rows.filter((row) => row.cluster !== cluster);
    return wordWithout(left, pair, fit) !== fit.word;
  });
  const clusters = [...new Set([...influential, ...decisive])].sort();
  const lowered = fit.ofModel === null && fit.word === 'settled' ? 'leaning' : WEAKER[fit.word];
  return { clusters, word: fit.word === 'settled' && clusters.length > 0 ? lowered : fit.word };
}

/** The pair's word from other rows at the same components and critical values; null where a side has no run left. */
function wordWithout(
  rows: readonly FitRow[],
  pair: readonly [string, string],
  fit: HeldFit,
): Evidence | null {
  const structure = layOutRuns(rows);
  const [a, b] = pair.map((setup) => structure.setups.indexOf(setup)) as [number, number];
  if (a === -1 || b === -1) return null;
  const problem = prepareFor(structure, fit.components);
  const at = evaluate(problem, toScaled(problem, fit.components), true);
  const inference = infer(problem, at, { method: 'known', free: [], interior: [] });
  const total = totalOf(inference, new Float64Array(inference.m ** 2));
  const { difference, se } = totalContrast(total, [
    [a, 1],
    [b, -1],
  ]);
  const around = (critical: number): [number, number] => [
    difference - critical * se,
    difference + critical * se,
  ];
  return wordFor(around(fit.alone), fit.ofModel === null ? null : around(fit.ofModel), around(fit.ofClass));
}
