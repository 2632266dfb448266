import { OFF_CRUISE_RELATIVE_U } from '@/lib/physics/priors';
import type { RunTrace } from './runTrace';
import type { LoopDriving } from './snapshot';

/** Weight of the prior's spread of off-cruise driving, in recordings. Own judgement. */
const PRIOR_RECORDINGS = 4;
/** Above this share of its cruise a fall began from cruise, and would at another speed begin from that. */
const FROM_CRUISE = 0.9;

/**
 * The mean over recordings of a loop, brought to another cruise speed where they were driven at one: what was off cruise
 * keeps its speed, and a fall from cruise begins at the other speed and keeps its deceleration. The spread between runs
 * is pooled with the prior's by degrees of freedom. Undefined without a recording that shows a cruise and its falls'
 * distances.
 */
export function loopDriving(recordings: readonly RunTrace[], cruiseMps: number): LoopDriving | undefined {
  const known = recordings.flatMap((trace) => {
    const { cruise, reasonsNotUsed, durationS, distanceM, lengthScale, slowDowns, meanSquareSpeedM2S2 } =
      trace;
    if (cruise === null || reasonsNotUsed.length > 0 || durationS === null) return [];
    const falls = slowDowns.flatMap(({ fallM, ...fall }) => (fallM === null ? [] : [{ ...fall, fallM }]));
    if (falls.length < slowDowns.length) return [];
    const own = cruise.meanSpeedMps;
    // 1 − M2/v² = q(1 − r²) and t·v/D − 1 = q(1/r − 1), with r the off-cruise speed over cruise
    const lacking = 1 - meanSquareSpeedM2S2 / own ** 2;
    const excess = (durationS * own) / ((lengthScale ?? 1) * distanceM) - 1;
    const { share, offCruiseMps } = oneSlowerSpeed(lacking, excess, own);
    const r = Math.min(1, offCruiseMps / cruiseMps);
    return [{ meanSquare: 1 - share * (1 - r * r), time: 1 + share * (1 / r - 1), falls, own }];
  });
  if (known.length === 0) return undefined;
  const mean = (of: readonly number[]) => of.reduce((sum, value) => sum + value, 0) / of.length;
  const value = mean(known.map(({ meanSquare }) => meanSquare));
  const squares = known.reduce((sum, { meanSquare }) => sum + (meanSquare - value) ** 2, 0);
  const prior = OFF_CRUISE_RELATIVE_U * (1 - value);
  const variance = (PRIOR_RECORDINGS * prior ** 2 + squares) / (PRIOR_RECORDINGS + known.length - 1);
  return {
    recordings: known.length,
    meanSquareRatio: { value, u: Math.sqrt(variance * (1 + 1 / known.length)) },
    timeRatio: mean(known.map(({ time }) => time)),
    brakingFalls: known.flatMap(({ falls, own }) =>
      falls
        .map((fall) => ({ ...atCruise(fall, own, cruiseMps), count: 1 / known.length }))
        // what began faster than the other cruise speed may have nothing left to brake
        .filter(({ fromMps, toMps }) => fromMps > toMps),
    ),
  };
}

/** The one off-cruise speed and its share of the distance that a recording's M2 and duration together stand for. */
function oneSlowerSpeed(lacking: number, excess: number, cruiseMps: number) {
  // q(1 − r²) = lacking and q(1/r − 1) = excess divide to r(1 + r) = lacking/excess
  const quotient = excess > 0 ? Math.max(0, lacking) / excess : 2;
  const r = Math.min(1, Math.max(0.05, (Math.sqrt(1 + 4 * quotient) - 1) / 2));
  return { share: r < 1 ? Math.max(0, lacking) / (1 - r * r) : 0, offCruiseMps: r * cruiseMps };
}

function atCruise(
  fall: { fromMps: number; toMps: number; fallM: number },
  ownMps: number,
  cruiseMps: number,
) {
  const { fromMps, toMps, fallM } = fall;
  const isFromCruise = fromMps > FROM_CRUISE * ownMps;
  const from = isFromCruise ? Math.max(toMps, (fromMps * cruiseMps) / ownMps) : fromMps;
  const drop = fromMps ** 2 - toMps ** 2;
  const stretch = drop > 0 ? (from ** 2 - toMps ** 2) / drop : 1;
  return { fromMps: from, toMps, distanceM: fallM * stretch };
}
