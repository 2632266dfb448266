import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/groupFit';
import { createRandom, drawNormal, type Random } from '@/lib/stats/random';

/**
 * Do the intervals keep their promise? Groups are drawn from a known truth, fitted, and counted: a group is
 * covered when all its simultaneous 95 % intervals hold their true differences at once, and its rank sets when
 * every true rank lies in its set. Wanted: 93 to 97 % and at least 93 %.
 */
interface Scenario {
  name: string;
  cars: number;
  sessions: number;
  runs: number;
  setups: number;
  sdCar: number;
  sdSession: number;
  sdRun: number;
  u: number;
  /** Step between neighbouring setups, log scale; 0 makes all alike. */
  step: number;
}

const SCENARIOS: Scenario[] = [
  {
    name: 'large',
    cars: 24,
    sessions: 3,
    runs: 4,
    setups: 6,
    sdCar: 0.04,
    sdSession: 0.02,
    sdRun: 0.015,
    u: 0.006,
    step: 0.01,
  },
  {
    name: 'middling',
    cars: 10,
    sessions: 3,
    runs: 4,
    setups: 5,
    sdCar: 0.04,
    sdSession: 0.02,
    sdRun: 0.015,
    u: 0.006,
    step: 0.01,
  },
  {
    name: 'all alike',
    cars: 10,
    sessions: 3,
    runs: 4,
    setups: 5,
    sdCar: 0.04,
    sdSession: 0.02,
    sdRun: 0.015,
    u: 0.006,
    step: 0,
  },
  {
    name: 'small',
    cars: 6,
    sessions: 2,
    runs: 3,
    setups: 4,
    sdCar: 0.04,
    sdSession: 0.02,
    sdRun: 0.015,
    u: 0.006,
    step: 0.01,
  },
  {
    name: 'no session variation',
    cars: 10,
    sessions: 3,
    runs: 3,
    setups: 4,
    sdCar: 0.03,
    sdSession: 0,
    sdRun: 0.015,
    u: 0,
    step: 0.01,
  },
];
const REPLICATES = 1000;

function simulate(s: Scenario, random: Random): FitRow[] {
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

/** Counts of one scenario over seeded replicates. */
export function measureCoverage(s: Scenario, replicates: number, seed: number) {
  const random = createRandom(seed);
  let simultaneous = 0;
  let pointwise = 0;
  let pairs = 0;
  let ranks = 0;
  let marginal = 0;
  let ranked = 0;
  for (let i = 0; i < replicates; i++) {
    const fit = fitGroup(simulate(s, random), { draws: 2000, seed: i + 1 });
    const truth = (setup: string) => s.step * Number(setup.slice(1));
    let all = true;
    for (const c of fit.contrasts) {
      const difference = truth(c.a) - truth(c.b);
      const holds = (range: [number, number] | null) =>
        range !== null && range[0] <= difference && difference <= range[1];
      if (!holds(c.simultaneous)) all = false;
      if (holds(c.interval95)) pointwise++;
      pairs++;
    }
    if (all) simultaneous++;
    let allRanks = true;
    for (const r of fit.ranks) {
      // With ties every rank from 1 + (number lower) to (number not higher) is a true one.
      const low = 1 + fit.ranks.filter((o) => truth(o.setup) < truth(r.setup)).length;
      const high = fit.ranks.filter((o) => truth(o.setup) <= truth(r.setup)).length;
      if (r.lower > low || r.upper < high) allRanks = false;
      if (r.marginal.lower <= low && r.marginal.upper >= high) marginal++;
      ranked++;
    }
    if (allRanks) ranks++;
  }
  return {
    simultaneous: simultaneous / replicates,
    pointwise: pointwise / pairs,
    rankSets: ranks / replicates,
    marginalRankSets: marginal / ranked,
  };
}

export async function bench(): Promise<void> {
  const error = (100 * Math.sqrt((0.95 * 0.05) / REPLICATES)).toFixed(1);
  console.log(`coverage over ${REPLICATES} seeded groups each (standard error ${error} points)`);
  let failed = 0;
  SCENARIOS.forEach((scenario, i) => {
    const c = measureCoverage(scenario, REPLICATES, 1000 + i);
    const good = c.simultaneous >= 0.93 && c.simultaneous <= 0.97 && c.rankSets >= 0.93;
    if (!good) failed++;
    const percent = (x: number) => `${(100 * x).toFixed(1)} %`;
    console.log(
      `  ${scenario.name}: simultaneous ${percent(c.simultaneous)}, pointwise ${percent(c.pointwise)}, rank sets ${percent(c.rankSets)} (alone ${percent(c.marginalRankSets)})${good ? '' : '  OUTSIDE 93–97 % / 93 %'}`,
    );
  });
  console.log(failed === 0 ? '  all within the wanted range' : `  ${failed} outside the wanted range`);
}
