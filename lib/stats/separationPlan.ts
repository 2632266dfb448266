import type { GroupFit } from './groupFit';
import { type Pairing, runsNeeded } from './power';
import { detectablePercent } from './statedDifference';

export interface WantedDifference {
  /** Size of the difference that is worth knowing, %. */
  percent: number;
  power: number;
}

/** One way to drive it, and how much it takes from nothing. */
export interface SeparationPlan {
  way: string;
  blocks: number;
  blockWord: string;
  runsPerSetup: number;
  power: number;
}

export interface Separation {
  /** The smallest true difference that the present data would find with the wanted power, %. */
  detectablePercent: number | null;
  plans: SeparationPlan[];
  /** Set when the class has no repeatability to plan with. */
  cannotPlan: string | null;
}

interface Way {
  words: string;
  pairing: Pairing;
  runsPerSession: number;
  sessionsPerCar?: number;
}

const WITHIN_A_MODEL: readonly Way[] = [
  { words: 'both in each session, twice each (A B B A)', pairing: 'same session', runsPerSession: 2 },
  { words: 'both in each session, once each', pairing: 'same session', runsPerSession: 1 },
  { words: 'one car, each setup on days of its own, twice a day', pairing: 'same car', runsPerSession: 2 },
];

const ACROSS_MODELS: readonly Way[] = [
  {
    words: 'cars of each model, two sessions a car, one run a session',
    pairing: 'different cars',
    runsPerSession: 1,
    sessionsPerCar: 2,
  },
  {
    words: 'cars of each model, one session a car, two runs a session',
    pairing: 'different cars',
    runsPerSession: 2,
    sessionsPerCar: 1,
  },
];

/** Beyond this many sessions or cars nobody drives: the page says "out of reach". */
const MOST_BLOCKS = 100;

/** What the data at hand can see, and what it takes to see the wanted difference, by the class's own variances. */
export function planSeparation(
  wanted: WantedDifference,
  summary: Pick<GroupFit, 'components' | 'repeatability'>,
  contrast: { se: number | null; dof: number | null } | undefined,
  isSameModel: boolean,
): Separation {
  const detectable = detectablePercent(contrast, wanted.power);
  if (summary.repeatability === null) {
    return {
      detectablePercent: detectable,
      plans: [],
      cannotPlan: 'This class has no repeated runs to plan from yet.',
    };
  }
  const u = Math.sqrt(summary.repeatability.meanKnownVariance);
  const plans = (isSameModel ? WITHIN_A_MODEL : ACROSS_MODELS).flatMap((way): SeparationPlan[] => {
    const answer = runsNeeded({
      pairing: way.pairing,
      difference: Math.log1p(wanted.percent / 100),
      power: wanted.power,
      variances: summary.components,
      u,
      runsPerSession: way.runsPerSession,
      ...(way.sessionsPerCar === undefined ? {} : { sessionsPerCar: way.sessionsPerCar }),
      most: MOST_BLOCKS,
    });
    if (answer === null) return [];
    const acrossCars = way.pairing === 'different cars';
    const blocks = acrossCars ? answer.layout.cars : answer.layout.sessions;
    return [
      {
        way: way.words,
        blocks,
        blockWord: acrossCars
          ? 'cars of each'
          : way.pairing === 'same car'
            ? 'days for each'
            : 'sessions of both',
        runsPerSetup: answer.runsPerSetup,
        power: answer.power,
      },
    ];
  });
  return { detectablePercent: detectable, plans, cannotPlan: null };
}
