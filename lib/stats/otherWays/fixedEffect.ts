import { factor, inverse, solve } from '@/lib/numerics/cholesky';
import type { Variances } from '../accumulate';
import { carParts } from '../carParts';
import { DisjointSets } from '../connectivity';
import type { HeldDifference } from '../heldEquations';
import { nestedKey, type Observation } from '../structure';

/**
 * Generalised least squares with one more fixed effect beside the setups, additive, at components that are held:
 * with a cell for every setup and level met together, M and r of the cells come from the cars' parts, and
 *   M_add = D'M D,  r_add = D'r,  D = [setup | level].
 * One level of each connected set of setups and levels stays out, so that D has full rank; setups of different sets are
 * not compared.
 *
 * @param levelOf the level of the added effect, as a loop
 */
export function withFixedEffect<Run extends Observation>(
  runs: readonly Run[],
  components: Variances,
  levelOf: (run: Run) => string,
): (a: string, b: string) => HeldDifference | null {
  const setups = [...new Set(runs.map(({ setup }) => setup))].sort();
  const levels = [...new Set(runs.map(levelOf))].sort();
  const placeOf = new Map(setups.map((setup, k) => [setup, k]));
  const levelAt = new Map(levels.map((level, l) => [level, l]));
  const m = setups.length;
  const sets = new DisjointSets(m + levels.length);
  const cellOf = new Map<string, [number, number]>();
  for (const run of runs) {
    const k = placeOf.get(run.setup) as number;
    const l = levelAt.get(levelOf(run)) as number;
    cellOf.set(nestedKey(run.setup, levelOf(run)), [k, l]);
    sets.join(k, m + l);
  }
  const columnOf = levelColumns(levels.length, m, sets);
  const p = m + new Set(columnOf.filter((column) => column !== null)).size;
  const cross = new Float64Array(p * p);
  const right = new Float64Array(p);
  const cells = runs.map((run) => ({ ...run, setup: nestedKey(run.setup, levelOf(run)) }));
  for (const part of carParts(cells, components)) {
    const q = part.setups.length;
    const at = part.setups.map((cell) => {
      const [k, l] = cellOf.get(cell) as [number, number];
      const column = columnOf[l] ?? null;
      return column === null ? [k] : [k, column];
    });
    at.forEach((rows, i) => {
      for (const row of rows) {
        right[row] = (right[row] as number) + (part.right[i] as number);
        at.forEach((columns, j) => {
          for (const column of columns) {
            const place = row * p + column;
            cross[place] = (cross[place] as number) + (part.cross[i * q + j] as number);
          }
        });
      }
    });
  }
  const lower = factor(cross, p);
  const effects = solve(lower, p, right);
  const covariance = inverse(lower, p);
  return (a, b) => {
    const [i, j] = [placeOf.get(a), placeOf.get(b)];
    if (i === undefined || j === undefined || sets.find(i) !== sets.find(j)) return null;
    const at = (x: number, y: number) => covariance[x * p + y] as number;
    return {
      difference: (effects[i] as number) - (effects[j] as number),
      variance: at(i, i) + at(j, j) - 2 * at(i, j),
    };
  };
}

/** A column for each level but the first of its connected set. */
function levelColumns(levels: number, m: number, sets: DisjointSets): (number | null)[] {
  const met = new Set<number>();
  let next = m;
  return Array.from({ length: levels }, (_, l) => {
    const set = sets.find(m + l);
    if (met.has(set)) return next++;
    met.add(set);
    return null;
  });
}
