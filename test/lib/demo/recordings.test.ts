import { describe, expect, it } from 'vitest';
import { parseGpx } from '@/lib/capture/trace/gpx';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { recordedRuns, recordingOf } from '@/prisma/demo/world/recordings';

const world = generateDemoWorld({ seed: 20_261_031 });
const keys = recordedRuns(world);

describe('recordings of the demo world', () => {
  it('are of three testers on each loop', () => {
    const runs = world.runs.filter((run) => keys.has(run.key));
    for (const loop of world.loops) {
      const testers = runs.filter((run) => run.loopKey === loop.key).map((run) => run.testerKey);
      expect(new Set(testers).size).toBe(3);
      expect(testers).toHaveLength(3);
    }
  });

  it('tell the truth that the run was driven from', () => {
    for (const run of world.runs.filter((each) => keys.has(each.key))) {
      const loop = world.loops.find((each) => each.key === run.loopKey);
      const truth = world.truth.runs[run.key];
      const parsed = parseGpx(recordingOf(world, run));
      if (!parsed.ok || !truth || !loop) throw new Error(run.key);
      const reduced = reduceTrace(parsed.points);
      if (!reduced.ok) throw new Error(reduced.message);
      // noise of a metre or two on fixes 60 m apart, and the corners of the outline
      expect(reduced.distanceM / loop.trueLengthM, run.key).toBeCloseTo(1, 2);
      expect(Math.abs((reduced.cruise?.meanSpeedMps ?? 0) - truth.cruiseSpeedMps), run.key).toBeLessThan(0.1);
      expect(Math.abs(reduced.durationS - truth.durationS), run.key).toBeLessThan(3);
      expect(reduced.turnaround?.distanceM, run.key).toBeGreaterThan(0.48 * loop.trueLengthM);
      // each braking of the drive and no other; one that follows another at once may be joined to it
      const pieces = truth.legs.flatMap((leg) => leg.pieces);
      const braked = pieces.filter((piece, k) => piece.toMps < piece.fromMps && pieces[k - 1] !== undefined);
      expect(reduced.slowDowns.length, run.key).toBeGreaterThanOrEqual(2);
      expect(reduced.slowDowns.length, run.key).toBeLessThanOrEqual(braked.length);
      // off-cruise share of the loop, and the ramps between
      const cruise = pieces
        .filter(({ fromMps, toMps }) => Math.min(fromMps, toMps) > 0.9 * truth.cruiseSpeedMps)
        .reduce((sum, { lengthM }) => sum + lengthM, 0);
      const off = 1 - cruise / loop.trueLengthM;
      expect(Math.abs((reduced.cruise?.offCruiseShare ?? 1) - off), run.key).toBeLessThan(0.03);
    }
  });

  it('come out alike each time', () => {
    const run = world.runs.find((each) => keys.has(each.key));
    if (!run) throw new Error('no recording');
    expect(recordingOf(world, run)).toEqual(recordingOf(world, run));
  });
});
