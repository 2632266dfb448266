import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { type Share, shareOf } from './coverageCount';
import { drawSpreads } from './demoCoverage';

/** Do the intervals of a class's first runs keep their promise, when its true spreads are drawn about the priors? */
export interface YoungLayout {
  name: string;
  rows: { setup: string; car: string; session: string; model?: string }[];
  pair: [string, string] | null;
}

const inSession = (order: string, session: string, car = 'k') =>
  [...order].map((setup) => ({ setup, car, session }));
export const YOUNG_LAYOUTS: YoungLayout[] = [
  { name: 'one session A B C', rows: inSession('ABC', '1'), pair: ['A', 'B'] },
  { name: 'A B B A', rows: inSession('ABBA', '1'), pair: ['A', 'B'] },
  { name: 'two sessions', rows: [...inSession('ABC', '1'), ...inSession('ABC', '2')], pair: ['A', 'B'] },
  { name: 'different days', rows: [...inSession('AA', '1'), ...inSession('BB', '2')], pair: ['A', 'B'] },
  {
    name: 'three cars against three',
    rows: ['k', 'l', 'm', 'n', 'o', 'p'].flatMap((car, i) =>
      inSession(i < 3 ? 'AA' : 'BB', '1', car).map((row) => ({ ...row, model: row.setup })),
    ),
    pair: ['A', 'B'],
  },
  {
    name: 'mean of three cars',
    rows: ['k', 'l', 'm'].flatMap((car) => inSession('AA', '1', car)),
    pair: null,
  },
];

const TRUE_LOG = 5;

/** True spreads log-normal about the priors with 0.35 on the log scale, as in the method's own simulation. */
function drawYoung(rows: YoungLayout['rows'], random: Random): FitRow[] {
  const { car: carSd, session: sessionSd, repeatability: runSd } = drawSpreads(random);
  const effects = new Map<string, number>();
  const effect = (key: string, sd: number) => {
    const known = effects.get(key) ?? sd * drawNormal(random);
    effects.set(key, known);
    return known;
  };
  return rows.map((row) => {
    const z =
      TRUE_LOG +
      effect(row.car, carSd) +
      effect(`${row.car} ${row.session}`, sessionSd) +
      Math.hypot(runSd, 0.003) * drawNormal(random);
    return { ...row, z, u: 0.003 };
  });
}

/**
 * In how many registries the interval of the layout's pair, taken alone, holds the true difference; without a pair, that
 * of the layout's one mean.
 */
export function measureYoung({ rows, pair }: YoungLayout, registries: number, seed: number): Share {
  const random = createRandom(seed);
  const tallies = Array.from({ length: registries }, () => {
    const fit = fitGroup(drawYoung(rows, random), { priors: youngClassSpread(), draws: 50 });
    const interval =
      pair === null
        ? fit.estimates[0]?.interval95?.map((end) => end - TRUE_LOG)
        : fit.contrasts.find(({ a, b }) => a === pair[0] && b === pair[1])?.interval95;
    const [low, high] = interval ?? [1, -1];
    return { held: Number((low as number) <= 0 && (high as number) >= 0), of: 1 };
  });
  return shareOf(tallies) as Share;
}
