import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { type Coverage, coverageOf, judgeFit } from './coverageCount';

/** Groups of one model made for the purpose: their sizes, spreads (log scale) and the step between neighbouring setups. */
export interface MadeGroup {
  name: string;
  cars: number;
  sessions: number;
  runs: number;
  setups: number;
  sdCar: number;
  sdSession: number;
  sdRun: number;
  u: number;
  /** 0 makes all setups alike. */
  step: number;
}

const USUAL = { sdCar: 0.04, sdSession: 0.02, sdRun: 0.015, u: 0.006, step: 0.01 };

export const MADE_GROUPS: readonly MadeGroup[] = [
  { name: 'large', cars: 24, sessions: 3, runs: 4, setups: 6, ...USUAL },
  { name: 'middling', cars: 10, sessions: 3, runs: 4, setups: 5, ...USUAL },
  { name: 'all alike', cars: 10, sessions: 3, runs: 4, setups: 5, ...USUAL, step: 0 },
  { name: 'small', cars: 6, sessions: 2, runs: 3, setups: 4, ...USUAL },
  {
    name: 'no session variation',
    cars: 10,
    sessions: 3,
    runs: 3,
    setups: 4,
    ...USUAL,
    sdCar: 0.03,
    sdSession: 0,
    u: 0,
  },
];

function simulate(s: MadeGroup, random: Random): FitRow[] {
  const rows: FitRow[] = [];
  for (let t = 0; t < s.cars; t++) {
    const car = s.sdCar * drawNormal(random);
    for (let d = 0; d < s.sessions; d++) {
      const session = s.sdSession * drawNormal(random);
      for (let r = 0; r < s.runs; r++) {
        const k = (t + 2 * d + r) % s.setups;
        const u = s.u * (0.5 + random.next());
        const z = 5 + s.step * k + car + session + Math.hypot(s.sdRun, u) * drawNormal(random);
        rows.push({ setup: `s${k}`, car: `c${t}`, session: `d${d}`, z, u });
      }
    }
  }
  return rows;
}

/** Counts of one kind of group over seeded replicates. */
export function measureMade(s: MadeGroup, replicates: number, seed: number): Coverage {
  const random = createRandom(seed);
  const truth = (setup: string) => 5 + s.step * Number(setup.slice(1));
  const verdicts = Array.from({ length: replicates }, (_, i) =>
    judgeFit(fitGroup(simulate(s, random), { draws: 2000, seed: i + 1 }), truth),
  );
  return coverageOf(verdicts);
}
