import { connectionWords, refusalWords } from './connectionWords';
import type { Evidence, GroupFit } from './groupFit';
import { type OrientedContrast, percentEnds, percentOf } from './orientedContrast';
import { detectableDifference } from './power';
import { sessionsToSettle } from './settling';

/** Everything that a sentence about one pair may say, in per cent of the baseline's consumption. */
export interface StatedDifference {
  percent: number | null;
  /** 95 % of the pair alone; for all comparable pairs of its model, null across models; for all of the class. */
  pointwise: [number, number] | null;
  ofModel: [number, number] | null;
  simultaneous: [number, number] | null;
  /** Strength of the evidence; null where the pair has no interval. */
  word: Evidence | null;
  /** It would be settled, but rests on one tester. */
  restsOnOne: boolean;
  /** Neither setup was driven by anybody else; left out where that is not known. */
  isDrivenByOne?: boolean;
  /** What joins the two. */
  connection: string;
  /** Why the two may not be compared, or why the difference has no interval. */
  refusal: string | null;
  /** How well runs repeat is at least partly assumed: the class is young. */
  isAssumed: boolean;
  /** Further sessions of both that would probably settle it, were it as large as it looks; null where none would. */
  moreSessions: number | null;
  /** The smallest true difference that the present runs would find with a chance of four in five, %. */
  detectablePercent: number | null;
}

const POWER = 0.8;

export interface PairSides {
  baselineCars: number;
  setupCars: number;
  /** What the protocol asks on each side across models. */
  leastCars: number;
  /** Testers of the setup that more of them drove; left out where that is not known. */
  mostTesters?: number | undefined;
}

/** What both sides of a pair rest on, from the counts of each. */
export function pairSides(
  baseline: { cars: number; testers: number },
  setup: { cars: number; testers: number },
  leastCars: number,
): PairSides {
  return {
    baselineCars: baseline.cars,
    setupCars: setup.cars,
    leastCars,
    mostTesters: Math.max(baseline.testers, setup.testers),
  };
}

/** The intervals of a pair on whatever scale, and the word that they earn. */
type JudgedIntervals = Pick<StatedDifference, 'word' | 'pointwise' | 'ofModel' | 'simultaneous'>;

/** What an interval holds for: the pair alone, all pairs of its model at once, all of the class at once. */
export type IntervalFamily = 'pointwise' | 'ofModel' | 'simultaneous';

/**
 * Which interval earns the word: that of the class for settled, of the model for probable, of the pair alone for leaning
 * and undecided; null where the pair has none.
 */
export function earnedFamily(difference: JudgedIntervals): IntervalFamily | null {
  const { word, ofModel } = difference;
  const family =
    word === 'settled' ? 'simultaneous' : word === 'probable' && ofModel !== null ? 'ofModel' : 'pointwise';
  return difference[family] === null ? null : family;
}

/** The interval that earns the word, which is quoted with it. */
export function earnedInterval(difference: JudgedIntervals): [number, number] | null {
  const family = earnedFamily(difference);
  return family === null ? null : difference[family];
}

/** One pair's difference as it may be stated; undefined contrasts are pairs that the fit does not have. */
export function stateDifference(
  contrast: OrientedContrast | undefined,
  sides: PairSides,
  fit: Pick<GroupFit, 'repeatability' | 'components' | 'origins'> | undefined,
): StatedDifference {
  const difference = contrast?.difference ?? null;
  const origin = fit?.origins.residual;
  return {
    percent: difference === null ? null : percentOf(difference),
    pointwise: percentEnds(contrast?.pointwise ?? null),
    ofModel: percentEnds(contrast?.ofModel ?? null),
    simultaneous: percentEnds(contrast?.simultaneous ?? null),
    word: contrast?.word ?? null,
    restsOnOne: contrast?.restsOnOne ?? false,
    isDrivenByOne: sides.mostTesters === 1,
    connection: connectionWords(contrast),
    refusal: refusalWords(contrast, sides),
    isAssumed: origin === 'assumed' || origin === 'moderated',
    moreSessions: contrast === undefined || fit === undefined ? null : sessionsToSettle(contrast, fit),
    detectablePercent: detectablePercent(contrast, POWER),
  };
}

/** The smallest true difference that a pair's present runs would find with this power, %; null without an interval. */
export function detectablePercent(
  contrast: { se: number | null; dof: number | null } | undefined,
  power: number,
): number | null {
  const { se = null, dof = null } = contrast ?? {};
  if (se === null || dof === null || dof < 1 || se <= 0) return null;
  return percentOf(detectableDifference(se, dof, power));
}
