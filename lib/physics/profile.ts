import {
  meanSquareFromRatio,
  meanSquareFromShare,
  offCruiseSpeedMps,
  type ProfileSource,
} from './meanSquare';
import { OFF_CRUISE_RELATIVE_U, READING_PRIORS } from './priors';

/**
 * The speed profile of a run: from a trace's moments when there is one, else as recordings of the loop have it, else
 * from cruise speed, mean speed and the loop's off-cruise share, solved so that distance and duration agree (which puts
 * M2 about 0.7 % low, as slow stretches differ among themselves). Consumption follows the squared speed by distance,
 * not the mean speed.
 */
export interface ProfileFinding {
  readonly code: 'durationTooShort' | 'durationTooLong';
  readonly message: string;
}

export interface ProfileJudgement {
  readonly source: ProfileSource;
  readonly finding: ProfileFinding | null;
}

export interface ProfileReadings {
  readonly distanceM: number;
  readonly durationS: number;
  readonly cruiseSpeedMps: number;
  readonly meanSquareSpeedM2S2?: number | undefined;
  readonly offCruiseShare?: number | undefined;
  /** M2/v² and t·v/D of the loop, from recordings of it. */
  readonly meanSquareRatio?: number | undefined;
  readonly timeRatio?: number | undefined;
}

/** An off-cruise stretch slower than this share of cruise on average is a jam or a pause, not ramps and a turnaround. */
const SLOWEST_RATIO = 0.15;
/** Without a share, more than this share at the assumed off-cruise speed no longer is a cruise run. */
const LARGEST_SHARE = 0.4;

/**
 * Decides how M2 is to be had and whether duration and cruise speed can both be true. A duration shorter than cruising
 * all the way, beyond twice its uncertainty, is a finding (a misread time or speed), and so is one so long that the
 * off-cruise part would have to crawl (traffic, or a misread time).
 */
export function judgeProfile(readings: ProfileReadings): ProfileJudgement {
  const { distanceM, durationS, cruiseSpeedMps, offCruiseShare } = readings;
  // t·v/D − 1: time beyond cruising all the way, relative
  const excess = (durationS * cruiseSpeedMps) / distanceM - 1;
  const tolerance =
    2 *
    Math.hypot(
      READING_PRIORS.durationS.u / durationS,
      READING_PRIORS.cruiseSpeedMps.u / cruiseSpeedMps,
      READING_PRIORS.distanceM.relativeU,
    );
  const tooShort = excess < -tolerance;
  if (readings.meanSquareSpeedM2S2 !== undefined) {
    return { source: 'trace', finding: tooShort ? tooShortFinding(excess) : null };
  }
  if (readings.meanSquareRatio !== undefined) {
    const usual = (readings.timeRatio ?? 1 + excess) - 1;
    const reach = 2 * Math.hypot(tolerance / 2, OFF_CRUISE_RELATIVE_U * usual);
    const finding =
      excess - usual > reach
        ? tooLongFinding(excess)
        : excess - usual < -reach
          ? quickerThanLoop(usual - excess)
          : null;
    return { source: 'loop', finding };
  }
  if (tooShort) return { source: 'steady', finding: tooShortFinding(excess) };
  // within its uncertainty the duration leaves nothing for slower stretches: at excess 0 all three sources meet in v²
  if (excess <= 0) return { source: 'steady', finding: null };
  if (offCruiseShare === 0) {
    return { source: 'steady', finding: excess > tolerance ? tooLongFinding(excess) : null };
  }
  if (offCruiseShare !== undefined) {
    const ratio = offCruiseShare / (excess + offCruiseShare); // v_off/v
    return { source: 'share', finding: ratio < SLOWEST_RATIO ? tooLongFinding(excess) : null };
  }
  const share = excess / (1 / READING_PRIORS.offCruiseSpeedRatio.value - 1);
  return { source: 'ratio', finding: share > LARGEST_SHARE ? tooLongFinding(excess) : null };
}

/** The solved profile in plain numbers, for a page: off-cruise share and speed, and the mean squared speed. */
export function solveProfile(readings: ProfileReadings): {
  readonly judgement: ProfileJudgement;
  readonly meanSquareSpeedM2S2: number;
  readonly offCruiseShare: number;
  readonly offCruiseSpeedMps: number;
} {
  const judgement = judgeProfile(readings);
  const { distanceM, durationS, cruiseSpeedMps } = readings;
  const slowness = durationS / distanceM;
  if (judgement.source === 'loop') {
    const meanSquareSpeedM2S2 = (readings.meanSquareRatio as number) * cruiseSpeedMps ** 2;
    return {
      judgement,
      meanSquareSpeedM2S2,
      offCruiseShare: readings.offCruiseShare ?? 0,
      offCruiseSpeedMps: cruiseSpeedMps,
    };
  }
  if (judgement.source === 'share') {
    const share = readings.offCruiseShare as number;
    return {
      judgement,
      meanSquareSpeedM2S2: meanSquareFromShare(cruiseSpeedMps, share, distanceM, durationS),
      offCruiseShare: share,
      offCruiseSpeedMps: offCruiseSpeedMps(cruiseSpeedMps, share, distanceM, durationS),
    };
  }
  if (judgement.source === 'ratio') {
    const ratio = READING_PRIORS.offCruiseSpeedRatio.value;
    return {
      judgement,
      meanSquareSpeedM2S2: meanSquareFromRatio(cruiseSpeedMps, ratio, distanceM, durationS),
      offCruiseShare: (slowness * cruiseSpeedMps - 1) / (1 / ratio - 1),
      offCruiseSpeedMps: ratio * cruiseSpeedMps,
    };
  }
  return {
    judgement,
    meanSquareSpeedM2S2: readings.meanSquareSpeedM2S2 ?? cruiseSpeedMps * cruiseSpeedMps,
    offCruiseShare: 0,
    offCruiseSpeedMps: cruiseSpeedMps,
  };
}

function percent(share: number): string {
  return `${(Math.abs(share) * 100).toFixed(1)} %`;
}

function tooShortFinding(excess: number): ProfileFinding {
  return {
    code: 'durationTooShort',
    message: `The run took ${percent(excess)} less time than its cruise speed needs for its distance: time, distance or speed is misread.`,
  };
}

function quickerThanLoop(short: number): ProfileFinding {
  return {
    code: 'durationTooShort',
    message: `The run took ${percent(short)} less time than its cruise speed needs on this loop, by recordings of it: time, distance or speed is misread.`,
  };
}

function tooLongFinding(excess: number): ProfileFinding {
  return {
    code: 'durationTooLong',
    message: `The run took ${percent(excess)} more time than its cruise speed needs, more than the off-cruise part explains: traffic, a pause, or a misread time.`,
  };
}
