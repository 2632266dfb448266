import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { benchBudget } from './budgetCoverage';
import { type Coverage, coverageOf, describeCoverage, isAsWanted, judgeFit } from './coverageCount';
import { measureRedrawn, measureRegenerated } from './demoCoverage';
import { measureYoung, YOUNG_LAYOUTS } from './youngCoverage';

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
const WORLDS = 1000;
const WHOLE_WORLDS = 40;
const YOUNG = 4000;
/** The world that `npm run seed:demo` loads. */
const DEMO_SEED = 20_261_031;

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
export function measureCoverage(s: Scenario, replicates: number, seed: number): Coverage {
  const random = createRandom(seed);
  const truth = (setup: string) => s.step * Number(setup.slice(1));
  const verdicts = Array.from({ length: replicates }, (_, i) =>
    judgeFit(fitGroup(simulate(s, random), { draws: 2000, seed: i + 1 }), truth),
  );
  return coverageOf(verdicts);
}

const standardError = (groups: number) => `${(100 * Math.sqrt((0.95 * 0.05) / groups)).toFixed(1)} points`;

export async function bench(): Promise<void> {
  console.log(`coverage over ${REPLICATES} seeded groups each (standard error ${standardError(REPLICATES)})`);
  let failed = 0;
  const report = (name: string, coverage: Coverage) => {
    const isGood = isAsWanted(coverage);
    if (!isGood) failed++;
    console.log(`${describeCoverage(name, coverage)}${isGood ? '' : '  OUTSIDE 93–97 % / 93 %'}`);
  };
  SCENARIOS.forEach((scenario, i) => {
    report(scenario.name, measureCoverage(scenario, REPLICATES, 1000 + i));
  });
  console.log(
    `the demo world's layout, effects drawn anew ${WORLDS} times (standard error ${standardError(WORLDS)})`,
  );
  console.log(`  young registries, ${YOUNG} each, true spreads drawn about the priors; wanted 93 to 97 %`);
  for (const layout of YOUNG_LAYOUTS) {
    console.log(`  ${layout.name}: ${(100 * measureYoung(layout, YOUNG, 31)).toFixed(1)} %`);
  }
  const world = generateDemoWorld({ seed: DEMO_SEED });
  for (const [name, coverage] of measureRedrawn(world, WORLDS, 2000)) report(name, coverage);
  console.log(failed === 0 ? '  all within the wanted range' : `  ${failed} outside the wanted range`);
  console.log(
    `${WHOLE_WORLDS} demo worlds generated whole, from weather and readings on (standard error ${standardError(WHOLE_WORLDS)}: a look, not a proof)`,
  );
  const seeds = Array.from({ length: WHOLE_WORLDS }, (_, i) => i + 1);
  for (const [name, coverage] of measureRegenerated(seeds)) console.log(describeCoverage(name, coverage));
  benchBudget();
}
