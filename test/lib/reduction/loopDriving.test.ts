import { describe, expect, it } from 'vitest';
import { OFF_CRUISE_RELATIVE_U } from '@/lib/physics/priors';
import { loopDriving } from '@/lib/reduction/loopDriving';
import { runTrace } from '@/lib/reduction/runTrace';
import { snapshotOf } from './exampleSnapshot';

const { loop } = snapshotOf();
const CRUISE_MPS = 30;

/** A loop of which a share was driven at two thirds of the cruise speed. */
function recorded(share: number, fallM: number | null = 400) {
  const r = 2 / 3;
  return runTrace(
    {
      traceId: 'trace',
      distanceM: loop.lengthM,
      lengthScale: null,
      gapDistanceM: 0,
      meanSquareSpeedM2S2: CRUISE_MPS ** 2 * (1 - share * (1 - r * r)),
      slowDowns: [{ fromMps: CRUISE_MPS, toMps: 20, fallM }],
      durationS: (loop.lengthM / CRUISE_MPS) * (1 + share * (1 / r - 1)),
      cruise: {
        meanSpeedMps: CRUISE_MPS,
        spreadMps: 0.3,
        durationS: 3000,
        withinBandShare: 1,
        offCruiseShare: share,
      },
      sectorShares: [0.5, 0.5],
      closureDistanceM: 40,
      netClimbM: null,
    },
    loop,
  );
}

describe('how a loop is driven', () => {
  it('is the mean over its recordings, known as well as one run more will have it', () => {
    const driving = loopDriving([recorded(0.03), recorded(0.05)], CRUISE_MPS);
    const ratios = [1 - 0.03 * (5 / 9), 1 - 0.05 * (5 / 9)];
    const mean = (ratios[0] as number) / 2 + (ratios[1] as number) / 2;
    expect(driving?.meanSquareRatio.value).toBeCloseTo(mean, 12);
    expect(driving?.timeRatio).toBeCloseTo(1 + 0.04 * 0.5, 12);
    // the prior's spread with the weight of four recordings, pooled by degrees of freedom; a further one: 1 + 1/n
    const squares = ratios.reduce((sum, ratio) => sum + (ratio - mean) ** 2, 0);
    const pooled = (4 * (OFF_CRUISE_RELATIVE_U * (1 - mean)) ** 2 + squares) / 5;
    expect(driving?.meanSquareRatio.u).toBeCloseTo(Math.sqrt(pooled * 1.5), 12);
  });

  it('of one recording is twice as uncertain, in variance, as the prior’s spread', () => {
    const driving = loopDriving([recorded(0.04)], CRUISE_MPS);
    const prior = OFF_CRUISE_RELATIVE_U * 0.04 * (5 / 9);
    expect(driving?.meanSquareRatio.u).toBeCloseTo(prior * Math.SQRT2, 12);
    expect(driving?.brakingFalls).toEqual([{ fromMps: 30, toMps: 20, distanceM: 400, count: 1 }]);
  });

  it('keeps the deceleration of a fall from cruise at another cruise speed', () => {
    const [fall] = loopDriving([recorded(0.04)], 36)?.brakingFalls ?? [];
    // v² falls by 36² − 20² instead of 30² − 20² over a stretch as much longer
    expect(fall?.fromMps).toBeCloseTo(36, 12);
    expect(fall?.distanceM).toBeCloseTo((400 * (36 ** 2 - 20 ** 2)) / (30 ** 2 - 20 ** 2), 9);
  });

  it('is not known from a recording that does not tell how far it braked', () => {
    expect(loopDriving([recorded(0.04, null)], CRUISE_MPS)).toBeUndefined();
    expect(loopDriving([], CRUISE_MPS)).toBeUndefined();
  });
});
