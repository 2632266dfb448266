import { fUpper } from '@/lib/numerics/distributions';
import { holm } from '../maxT';
import type { PredictedRun } from './predictInTurn';

export type DispersionKind = 'car' | 'tester' | 'loop';

/** How the runs of one car, tester or loop scatter within their sessions, against all the others. */
export interface Dispersion {
  kind: DispersionKind;
  /** Of the car, the tester or the loop. */
  key: string;
  /** Runs that tell of it: those after the first of their session. */
  runs: number;
  /** Its scatter over that of the others, a ratio of standard deviations. */
  ratio: number;
  /** Of an F test against more scatter, alone and by Holm over all that were tested. */
  p: number;
  pHolm: number;
}

/** Fewer runs than these tell nothing of a scatter. Common practice, no source. */
const LEAST_RUNS = 3;
const LEAST_OTHERS = 10;

/**
 * F of the mean squared innovations within sessions of each car, tester and loop over that of all the others, at
 * components held for the whole class: there the innovations are independent standard normal where every run scatters
 * alike (recursive residuals; Brown R. L., Durbin J., Evans J. M., 1975, JRSS B 37, 149), and a common scale cancels.
 * P-values by Holm over all tests. A tester with one car, or a class with one loop, is the same test twice and asked
 * once.
 */
export function dispersions(predicted: readonly PredictedRun[]): Dispersion[] {
  const within = predicted.filter(({ place }) => place > 0);
  const all = within.reduce((sum, { innovation }) => sum + innovation.value ** 2, 0);
  const found = new Map<string, Omit<Dispersion, 'pHolm'>>();
  for (const kind of ['car', 'tester', 'loop'] as const) {
    for (const [key, own] of groupBy(within, ({ run }) => run[kind] ?? '')) {
      const [n, others] = [own.length, within.length - own.length];
      if (n < LEAST_RUNS || others < LEAST_OTHERS) continue;
      const squares = own.reduce((sum, { innovation }) => sum + innovation.value ** 2, 0);
      if (!(all - squares > 0)) continue;
      const f = squares / n / ((all - squares) / others);
      // The same runs make the same sum of squares: a tester's only car is not asked about again.
      const test = `${n} ${squares}`;
      if (found.has(test)) continue;
      found.set(test, { kind, key, runs: n, ratio: Math.sqrt(f), p: fUpper(f, n, others) });
    }
  }
  const rows = [...found.values()];
  const adjusted = holm(rows.map(({ p }) => p));
  return rows
    .map((row, i) => ({ ...row, pHolm: adjusted[i] as number }))
    .sort((a, b) => a.p - b.p || (a.key < b.key ? -1 : 1));
}

function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [item]);
    else own.push(item);
  }
  return groups;
}
