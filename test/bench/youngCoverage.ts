import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';

/** Do the intervals of a class's first runs keep their promise, when its true spreads are drawn about the priors? */
export interface YoungLayout {
  name: string;
  rows: { setup: string; car: string; session: string; model?: string }[];
  pair: [string, string];
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
];

/** True spreads log-normal about the priors with 0.35 on the log scale, as in the method's own simulation. */
function drawYoung(layout: YoungLayout, random: Random): FitRow[] {
  const spread = (sd: number) => sd * Math.exp(0.35 * drawNormal(random));
  const [carSd, sessionSd, runSd] = [spread(0.015), spread(0.012), spread(0.008)];
  const effects = new Map<string, number>();
  const effect = (key: string, sd: number) => {
    const known = effects.get(key) ?? sd * drawNormal(random);
    effects.set(key, known);
    return known;
  };
  return layout.rows.map((row) => {
    const z =
      5 +
      effect(row.car, carSd) +
      effect(`${row.car} ${row.session}`, sessionSd) +
      Math.hypot(runSd, 0.003) * drawNormal(random);
    return { ...row, z, u: 0.003 };
  });
}

/** Share of registries in which the interval of the layout's pair, taken alone, holds the true difference. */
export function measureYoung(layout: YoungLayout, registries: number, seed: number): number {
  const random = createRandom(seed);
  let held = 0;
  for (let i = 0; i < registries; i++) {
    const fit = fitGroup(drawYoung(layout, random), { priors: youngClassSpread(), draws: 50 });
    const pair = fit.contrasts.find((c) => c.a === layout.pair[0] && c.b === layout.pair[1]);
    const [low, high] = pair?.interval95 ?? [1, -1];
    if (low <= 0 && high >= 0) held++;
  }
  return held / registries;
}
