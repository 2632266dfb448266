import { describe, expect, it } from 'vitest';
import { runSpeed } from '@/lib/reduction/runSpeed';
import { runTrace } from '@/lib/reduction/runTrace';
import type { RecordingSnapshot } from '@/lib/reduction/snapshot';
import { speedWithTrace, traceCase, usable } from '@/lib/reduction/withTrace';
import { recordOf, snapshotOf } from './exampleSnapshot';

const { loop } = snapshotOf();

/** Over the loop, its cruise at a true speed. */
function recorded(meanSpeedMps: number, changes: Partial<RecordingSnapshot> = {}) {
  const recording: RecordingSnapshot = {
    traceId: 'trace',
    distanceM: loop.lengthM,
    lengthScale: null,
    gapDistanceM: 0,
    meanSquareSpeedM2S2: 0.97 * meanSpeedMps ** 2,
    slowDowns: [],
    durationS: loop.lengthM / meanSpeedMps,
    cruise: { meanSpeedMps, spreadMps: 0.3, durationS: 3000, withinBandShare: 1, offCruiseShare: 0.03 },
    sectorShares: [0.5, 0.5],
    closureDistanceM: 40,
    netClimbM: 12,
    ...changes,
  };
  return usable(runTrace(recording, loop));
}

// 0.2 km/h for a mean over minutes by satellite fixes: common practice of the method, no source
const TRACED_U_MPS = 0.2 / 3.6;

describe('a recorded cruise speed', () => {
  const byForm = runSpeed(recordOf(), []);

  it('takes the place of the typed one, and what the form alone gave is kept', () => {
    const speed = speedWithTrace(byForm, recorded(byForm.cruiseSpeedMps + 0.05));
    expect(speed.cruiseSpeedMps).toBeCloseTo(byForm.cruiseSpeedMps + 0.05, 12);
    expect(speed.uMps).toBeCloseTo(TRACED_U_MPS, 12);
    expect(speed).toMatchObject({ source: 'trace', byForm: { uMps: byForm.uMps, agrees: true } });
  });

  it('that contradicts the typed one is as uncertain as they are apart, since either may be wrong', () => {
    // the normal deviate that 1 % of pairs exceed, both sides (tables of the normal distribution): 2.576
    const limit = 2.576 * Math.hypot(byForm.uMps, TRACED_U_MPS);
    const apart = (by: number) => speedWithTrace(byForm, recorded(byForm.cruiseSpeedMps - by));
    expect(apart(0.999 * limit).uMps).toBeCloseTo(TRACED_U_MPS, 12);
    expect(apart(1.001 * limit)).toMatchObject({ byForm: { agrees: false } });
    expect(apart(1.001 * limit).uMps).toBeCloseTo(Math.hypot(TRACED_U_MPS, 1.001 * limit), 9);
  });

  it('is taken only from a recording that is used', () => {
    expect(speedWithTrace(byForm, recorded(30, { distanceM: 0.9 * loop.lengthM }))).toBe(byForm);
    expect(speedWithTrace(byForm, recorded(30, { cruise: null }))).toBe(byForm);
  });
});

describe('the climb of a recorded run', () => {
  it('is the loop’s, unless the run ended elsewhere and the recording knows how high', () => {
    expect(traceCase(recorded(31))?.netClimb).toBeNull();
    expect(traceCase(recorded(31, { closureDistanceM: 201 }))?.netClimb).toEqual({ valueM: 12, uM: 5 });
    expect(traceCase(recorded(31, { closureDistanceM: 201, netClimbM: null }))?.netClimb).toBeNull();
  });
});
