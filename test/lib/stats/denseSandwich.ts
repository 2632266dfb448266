import { createRandom, drawNormal } from '@/lib/numerics/random';
import type { Variances } from '@/lib/stats/accumulate';
import type { FitRow } from '@/lib/stats/fitRow';
import type { SharedContribution } from '@/lib/stats/scopes';
import { denseFit, type Matrix, multiply, transpose } from './dense';

/** Inputs that do unequal things to the runs of a session, written out with N × N matrices; slow and independent. */

export const sessionOf = (row: FitRow) => `${row.car}|${row.loop ?? ''}|${row.session}`;

/** The same runs with inputs of every scope, most of them unequal within sessions. */
export function sharing(runs: readonly FitRow[], seed: number): FitRow[] {
  const random = createRandom(seed);
  return runs.map((row) => {
    const part = (key: string, scope: SharedContribution['scope']): SharedContribution[] =>
      random.next() < 0.8 ? [{ key, scope, contribution: 0.01 * drawNormal(random) }] : [];
    return {
      ...row,
      shared: [
        ...part(`climate of ${row.car}`, 'car'),
        ...part(`display of ${row.car}`, 'car'),
        ...part(`weather of ${sessionOf(row)}`, 'session'),
        // an input of a whole day reaches over cars and loops
        ...part(`station on ${row.session}`, 'session'),
        ...part('drag', 'model'),
        ...part('yaw', 'method'),
      ],
    };
  });
}

/** δ of every input by run, and w, written out from their definition. */
export function denseSpread(rows: readonly FitRow[]): { deltas: number[][]; w: number[] } {
  const names = new Set(rows.flatMap((row) => (row.shared ?? []).map(({ scope, key }) => `${scope} ${key}`)));
  const w = rows.map(() => 0);
  const deltas = [...names]
    .filter((name) => /^(car|session) /.test(name))
    .map((name) => {
      const c = rows.map((row) =>
        (row.shared ?? []).reduce(
          (sum, part) => sum + (`${part.scope} ${part.key}` === name ? part.contribution : 0),
          0,
        ),
      );
      return rows.map((row, i) => {
        const mates = rows.flatMap((other, j) =>
          sessionOf(other) === sessionOf(row) ? [c[j] as number] : [],
        );
        const delta = (c[i] as number) - mates.reduce((sum, x) => sum + x, 0) / mates.length;
        if (mates.length > 1) {
          w[i] = (w[i] as number) + (delta * delta * mates.length) / (mates.length - 1);
        }
        return delta;
      });
    });
  return { deltas, w };
}

/** At given components: the exact covariance of the estimates, that at the fit's weights, and what lies between. */
export function sandwich(
  rows: readonly FitRow[],
  v: Variances,
): { correction: Matrix; truth: Matrix; plain: Matrix } {
  const { deltas, w } = denseSpread(rows);
  const weighted = rows.map((row, i) => ({ ...row, u: Math.sqrt(row.u ** 2 + (w[i] as number)) }));
  const { covariance, X, Vinverse, V } = denseFit(weighted, v);
  const difference = V.map((row, i) =>
    row.map(
      (_, j) =>
        deltas.reduce((sum, delta) => sum + (delta[i] as number) * (delta[j] as number), 0) -
        (i === j ? (w[i] as number) : 0),
    ),
  );
  const L = multiply(multiply(covariance, transpose(X)), Vinverse);
  const about = (middle: Matrix) => multiply(multiply(L, middle), transpose(L));
  const true_ = V.map((row, i) => row.map((x, j) => x + (difference[i]?.[j] as number)));
  return { correction: about(difference), truth: about(true_), plain: covariance };
}
