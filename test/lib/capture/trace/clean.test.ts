import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanTrace } from '@/lib/capture/trace/clean';
import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { coastDrive, drive } from './syntheticDrive';

const sound = drive({ ...coastDrive, pieces: [{ lengthM: 3000, bearingDeg: 60 }] }).points;
const withReason = (points: readonly TracePoint[], reason: string) =>
  cleanTrace(points)
    .excluded.filter((exclusion) => exclusion.reason === reason)
    .map(({ index }) => index);
const changed = (changes: Record<number, Partial<TracePoint>>) =>
  sound.map((point, index) => ({ ...point, ...changes[index] }));

describe('cleanTrace', () => {
  it('keeps a sound trace whole', () => {
    const trace = cleanTrace(sound);
    expect(trace.excluded).toEqual([]);
    expect(trace.indices).toHaveLength(sound.length);
    expect(trace.timeS.at(-1)).toBeCloseTo(((sound.at(-1)?.timeMs ?? 0) - coastDrive.startMs) / 1000, 6);
  });

  it('drops repeated fixes, missing times and single positions out of reach', () => {
    const at = (index: number) => sound[index] as TracePoint;
    const points = changed({
      40: { timeMs: at(39).timeMs },
      60: { timeMs: null },
      80: { latitudeDeg: at(80).latitudeDeg + 0.5 },
    });
    expect(withReason(points, 'duplicate')).toEqual([40]);
    expect(withReason(points, 'noTime')).toEqual([60]);
    expect(withReason(points, 'jump')).toEqual([80]);
    expect(cleanTrace(points).excluded).toHaveLength(3);
  });

  it('drops a wrong first fix and a whole stretch far away, and keeps the rest', () => {
    const away = Object.fromEntries(
      Array.from({ length: 12 }, (_, i) => [
        100 + i,
        { longitudeDeg: (sound[100 + i] as TracePoint).longitudeDeg + 1 },
      ]),
    );
    const points = changed({ 0: { latitudeDeg: 12, longitudeDeg: 12 }, ...away });
    expect(withReason(points, 'jump')).toEqual([
      0, 100, 101, 102, 103, 104, 105, 106, 107, 108, 109, 110, 111,
    ]);
  });

  it('drops as few points as it can when the clock is set back for a while', () => {
    const back = Object.fromEntries(
      Array.from({ length: 5 }, (_, i) => [50 + i, { timeMs: coastDrive.startMs - 60_000 + i * 1000 }]),
    );
    expect(withReason(changed(back), 'clockStep')).toEqual([50, 51, 52, 53, 54]);
    const first = changed({ 0: { timeMs: coastDrive.startMs + 3_600_000 } });
    expect(withReason(first, 'clockStep')).toEqual([0]);
  });

  it('blanks a height spike but keeps its point', () => {
    const trace = cleanTrace(changed({ 70: { elevationM: 4000 } }));
    expect(trace.elevationSpikes).toBe(1);
    expect(trace.excluded).toEqual([]);
    expect(trace.elevationM[70]).toBeNaN();
  });

  it('runs longitudes on over the date line', () => {
    const across = sound.map((point) => {
      const east = point.longitudeDeg - 8.4 + 179.98;
      return { ...point, longitudeDeg: east > 180 ? east - 360 : east };
    });
    const { longitudeDeg, excluded } = cleanTrace(across);
    expect(excluded).toEqual([]);
    expect(Math.max(...longitudeDeg)).toBeGreaterThan(180);
  });

  it('always counts given = used + excluded, in increasing time and reachable steps, whatever comes in', () => {
    const anyPoint = fc.record({
      latitudeDeg: fc.double({ min: -90, max: 90, noNaN: true }),
      longitudeDeg: fc.double({ min: -180, max: 180, noNaN: true }),
      elevationM: fc.option(fc.double({ min: -400, max: 8000, noNaN: true })),
      timeMs: fc.option(fc.integer({ min: 0, max: 100_000 })),
      speedMps: fc.constant(null),
      powerW: fc.constant(null),
    });
    const mixed = fc.array(fc.oneof(anyPoint, fc.constantFrom(...sound.slice(0, 50))), { maxLength: 60 });
    fc.assert(
      fc.property(mixed, (points) => {
        const trace = cleanTrace(points);
        expect(trace.indices.length + trace.excluded.length).toBe(points.length);
        const all = new Set([...trace.indices, ...trace.excluded.map(({ index }) => index)]);
        expect(all.size).toBe(points.length);
        for (let k = 1; k < trace.timeS.length; k++) {
          expect(trace.timeS[k] as number).toBeGreaterThan(trace.timeS[k - 1] as number);
        }
        const again = cleanTrace(Array.from(trace.indices, (index) => points[index] as TracePoint));
        expect(again.excluded).toEqual([]);
      }),
    );
  });
});
