import type { Variances } from './accumulate';
import { evaluate } from './criterion';
import { type Inference, infer } from './inference';
import { prepareFor, toScaled } from './problem';
import { type Cell, layOutCells, mergeMoments, type Observation } from './structure';

/**
 * What a group's fit needs to remember between fits: count, mean and squares per car, loop, session, setup and known
 * uncertainty. Adding or withdrawing a run touches one cell; the runs themselves are not needed again.
 */
export interface SufficientStatistics {
  /** Uncertainties are kept to this many bins an octave of u; 0 keeps them exactly. */
  binsPerOctave: number;
  cells: Map<string, Cell>;
}

/** Empty statistics. Binning is approximate (u within half a bin); keep 0 for published fits. */
export function emptyStatistics(binsPerOctave = 0): SufficientStatistics {
  return { binsPerOctave, cells: new Map() };
}

function binned(u: number, binsPerOctave: number): number {
  if (binsPerOctave === 0 || u === 0) return u;
  return 2 ** (Math.round(Math.log2(u) * binsPerOctave) / binsPerOctave);
}

function keyOf(run: Observation, u: number): string {
  return JSON.stringify([run.car, run.loop ?? '', run.session, run.setup, u]);
}

/** Adds one run, in place. */
export function addRun(statistics: SufficientStatistics, run: Observation): void {
  const u = binned(run.u, statistics.binsPerOctave);
  const key = keyOf(run, u);
  const cell = statistics.cells.get(key);
  const single = { n: 1, mean: run.z, squares: 0 };
  statistics.cells.set(key, {
    setup: run.setup,
    car: run.car,
    ...(run.loop === undefined ? {} : { loop: run.loop }),
    session: run.session,
    u,
    ...(cell === undefined ? single : mergeMoments(cell, single)),
  });
}

/**
 * Withdraws one run that was added before, in place.
 *
 * @throws RangeError when the cell holds no run to withdraw
 */
export function removeRun(statistics: SufficientStatistics, run: Observation): void {
  const key = keyOf(run, binned(run.u, statistics.binsPerOctave));
  const cell = statistics.cells.get(key);
  if (cell === undefined) throw new RangeError('there is no such run to withdraw');
  if (cell.n === 1) {
    statistics.cells.delete(key);
    return;
  }
  const n = cell.n - 1;
  const mean = cell.mean - (run.z - cell.mean) / n;
  const squares = n === 1 ? 0 : Math.max(0, cell.squares - (run.z - cell.mean) * (run.z - mean));
  statistics.cells.set(key, { ...cell, n, mean, squares });
}

/** Statistics of a set of runs. */
export function summariseRuns(runs: Iterable<Observation>, binsPerOctave = 0): SufficientStatistics {
  const statistics = emptyStatistics(binsPerOctave);
  for (const run of runs) addRun(statistics, run);
  return statistics;
}

/**
 * Setup effects at variances held from the last full fit: one evaluation, for the time between full refits.
 * `components` are taken as known, so the degrees of freedom of every contrast are infinite here.
 */
export function refitEffects(
  statistics: SufficientStatistics,
  components: Variances,
): { setups: string[]; inference: Inference } {
  const structure = layOutCells([...statistics.cells.values()]);
  const problem = prepareFor(structure, components);
  const at = evaluate(problem, toScaled(problem, components), true);
  return {
    setups: structure.setups,
    inference: infer(problem, at, { method: 'known', free: [], interior: [] }),
  };
}
