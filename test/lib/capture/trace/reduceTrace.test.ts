import fc from 'fast-check';
import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { parseGpx } from '@/lib/capture/trace/gpx';
import type { KnownLoop } from '@/lib/capture/trace/loopMatch';
import { windowsOnLoop } from '@/lib/capture/trace/loopWindow';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import type { ReducedTrace } from '@/lib/capture/trace/reduction';
import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { withSatelliteNoise } from './satelliteNoise';
import { coastDrive, drive, placeAlong, toGpx } from './syntheticDrive';

const truth = drive(coastDrive);
function reduced(points: readonly TracePoint[], options = {}): ReducedTrace {
  const result = reduceTrace(points, options);
  if (!result.ok) throw new Error(result.message);
  return result;
}
const loop: KnownLoop = {
  id: 'coast',
  start: placeAlong(coastDrive, 0),
  turnaround: placeAlong(coastDrive, truth.outboundM),
  lengthM: truth.totalM,
  outline: [0, 9_000, 9_810, 21_810, 22_500, 23_160, truth.outboundM].map((along) =>
    placeAlong(coastDrive, along),
  ),
};

describe('reduceTrace on a drive of known truth (positions by GeographicLib Direct, moments in closed form)', () => {
  const result = reduced(truth.points, { cruiseClassMps: coastDrive.cruiseMps, loops: [loop] });

  it('finds length, time, mean speed and the distance-weighted mean square speed', () => {
    // The smoothing swings by a metre where the car starts and stops, and loses as little on bends of 1 km radius.
    expect(Math.abs(result.distanceM - truth.totalM)).toBeLessThan(4);
    expect(result.durationS).toBeCloseTo(truth.durationS, 2);
    // Inherits the metres above.
    expect(result.meanSpeedMps).toBeCloseTo(truth.totalM / truth.durationS, 2);
    // The smoothing rounds the corners of the ramps.
    expect(Math.abs(result.meanSquareSpeedM2S2 / truth.meanSquareSpeedM2S2 - 1)).toBeLessThan(3e-4);
    expect(result.speedSource).toBe('position');
  });

  it('finds the turnaround within 30 m and the legs', () => {
    expect(Math.abs((result.turnaround?.distanceM ?? 0) - truth.outboundM)).toBeLessThan(30);
    expect(result.sharedRouteShare).toBe(1);
    const [out, back] = result.legs ?? [];
    expect(out?.distanceM).toBeCloseTo(truth.outboundM, -2);
    expect(back?.distanceM).toBeCloseTo(truth.outboundM, -2);
    expect((out?.distanceM ?? 0) + (back?.distanceM ?? 0)).toBeCloseTo(result.distanceM, 6);
    expect((out?.durationS ?? 0) + (back?.durationS ?? 0)).toBeCloseTo(result.durationS, 6);
  });

  it('finds the cruise, the halt and the braking', () => {
    expect(result.cruise?.meanSpeedMps).toBeCloseTo(coastDrive.cruiseMps, 1);
    expect(result.cruise?.withinBandShare).toBeGreaterThan(0.98);
    expect(
      result.stops.some(
        (stop) => Math.abs(stop.startS - truth.haltStartS) < 6 && Math.abs(stop.durationS - 30) < 8,
      ),
    ).toBe(true);
    expect(result.slowDowns).toHaveLength(2);
    // Two full stops from cruise: 2·v².
    expect(Math.abs(result.squaredSpeedDropM2S2 / (2 * coastDrive.cruiseMps ** 2) - 1)).toBeLessThan(0.015);
  });

  it('climbs what the hills hold: six waves of 80 m there and back, nothing net', () => {
    // sin has crests and troughs ± 40 m: 3 waves a leg, each 80 m up; smoothing over ± 150 m of 9.72 km takes 0.1 %.
    expect(result.climb?.netM).toBeCloseTo(0, 0);
    expect(Math.abs((result.climb?.upM ?? 0) - 480)).toBeLessThan(5);
    expect(Math.abs((result.climb?.downM ?? 0) - 480)).toBeLessThan(5);
  });

  it('spreads bearings by distance, out and back alike', () => {
    const shares = result.bearings.sectorShares;
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    const share = (from: number) =>
      coastDrive.pieces
        .filter(({ bearingDeg }) => bearingDeg >= from && bearingDeg < from + 10)
        .reduce((sum, { lengthM }) => sum + lengthM / truth.outboundM / 2, 0);
    expect(shares[3]).toBeCloseTo(share(30), 2);
    expect(shares[21]).toBeCloseTo(share(30), 2);
    expect(shares[11]).toBeCloseTo(share(110), 2);
    // What cancels the mean headwind of any wind on an out-and-back (method A4).
    expect(Math.abs(result.bearings.meanCos)).toBeLessThan(2e-3);
    expect(Math.abs(result.bearings.meanSin)).toBeLessThan(2e-3);
    const exact = coastDrive.pieces.reduce(
      (sum, { lengthM, bearingDeg }) =>
        sum + (lengthM / truth.outboundM) * Math.cos((bearingDeg * Math.PI) / 90),
      0,
    );
    expect(result.bearings.meanCos2).toBeCloseTo(exact, 2);
  });

  it('matches the loop and closes', () => {
    expect(result.matches[0]).toMatchObject({ loopId: 'coast', isMatch: true, reasons: [] });
    expect(result.proposal).toBeNull();
    expect(result.closureDistanceM).toBeLessThan(1);
    expect(result.closureHeightM).toBeCloseTo(0, 0);
  });

  it('keeps all this under receiver noise of 1.5 m', () => {
    const rough = reduced(withSatelliteNoise(truth.points, { seed: 5, sigmaM: 1.5, correlationS: 20 }), {
      cruiseClassMps: coastDrive.cruiseMps,
      loops: [loop],
    });
    expect(Math.abs(rough.distanceM / truth.totalM - 1)).toBeLessThan(3e-4);
    expect(Math.abs(rough.meanSquareSpeedM2S2 / truth.meanSquareSpeedM2S2 - 1)).toBeLessThan(1e-3);
    expect(Math.abs((rough.turnaround?.distanceM ?? 0) - truth.outboundM)).toBeLessThan(50);
    expect(rough.cruise?.withinBandShare).toBeGreaterThan(0.95);
    expect(rough.slowDowns).toHaveLength(2);
    expect(Math.abs((rough.climb?.upM ?? 0) - 480)).toBeLessThan(60);
    expect(rough.matches[0]?.isMatch).toBe(true);
  });
});

describe('reduceTrace with a receiver’s own speed, power and gaps', () => {
  it('takes the reported speed when its integral agrees, and refuses it when it does not', () => {
    const perSecond = truth.points.map((point, k) => {
      const next = truth.points[k + 1];
      return { ...point, speedMps: next === undefined ? 0 : coastDrive.cruiseMps };
    });
    expect(reduced(perSecond).speedSource).toBe('position');
    const own = reduced(truth.points.map((point, k) => ({ ...point, speedMps: reducedSpeed[k] ?? 0 })));
    expect(own.speedSource).toBe('receiver');
  });
  const reducedSpeed = truth.points.map((_, k) => {
    const t = (k * truth.durationS) / (truth.points.length - 1);
    const legS = truth.haltStartS;
    const inLeg = t > legS + coastDrive.haltS ? t - legS - coastDrive.haltS : Math.min(t, legS);
    return Math.max(0, Math.min(coastDrive.cruiseMps, inLeg, legS - inLeg));
  });

  it('integrates battery power: 20 kW held is 20 kW times the hours', () => {
    const energy = reduced(truth.points.map((point) => ({ ...point, powerW: 20_000 }))).energyWh;
    expect(energy).toBeCloseTo((20_000 * truth.durationS) / 3600, 1);
    expect(reduced(truth.points).energyWh).toBeNull();
  });

  it('bridges a tunnel and says so', () => {
    const tunnel = truth.points.filter((_, k) => k < 500 || k > 540);
    const result = reduced(tunnel);
    expect(result.gaps).toHaveLength(1);
    expect(result.gapDistanceM).toBeCloseTo(42 * coastDrive.cruiseMps, -1);
    expect(Math.abs(result.distanceM / truth.totalM - 1)).toBeLessThan(1e-3);
    expect(result.notes.join(' ')).toContain('Gaps bridged by straight lines: 1 (');
  });
});

/** A place so far behind the start that driving on at 80° leads to it. */
function geodesicStart(metres: number) {
  const { latitudeDeg, longitudeDeg } = coastDrive.start;
  const end = geodesic.Geodesic.WGS84.Direct(latitudeDeg, longitudeDeg, 260, metres);
  return { latitudeDeg: end.lat2 as number, longitudeDeg: end.lon2 as number };
}

describe('reduceTrace and loops', () => {
  it('says why another loop does not match, and proposes a new one with a thin outline', () => {
    const other: KnownLoop = {
      ...loop,
      id: 'other',
      turnaround: placeAlong(coastDrive, 15_000),
      outline: loop.outline.slice(0, 2),
    };
    const result = reduced(truth.points, { loops: [other] });
    expect(result.matches[0]?.isMatch).toBe(false);
    expect(result.matches[0]?.reasons.join(' ')).toMatch(
      /turnaround .* km from the loop's\. .*lies off the loop/,
    );
    expect(result.proposal?.lengthM).toBeCloseTo(truth.totalM, -2);
    const outline = result.proposal?.outline ?? [];
    expect(outline.length).toBeGreaterThanOrEqual(4);
    expect(outline.length).toBeLessThan(16);
    const again = reduced(truth.points, { loops: [{ ...loop, outline }] });
    expect(again.matches[0]).toMatchObject({ isMatch: true, shareOfLoopDriven: 1 });
  });

  it('finds the run, or two, in a longer recording', () => {
    const shift = (points: readonly TracePoint[], ms: number) =>
      points.map((p) => ({ ...p, timeMs: (p.timeMs ?? 0) + ms }));
    // From a place 5 km short of the start, there, twice round, and away again.
    const approach = drive({
      ...coastDrive,
      start: geodesicStart(5_000),
      pieces: [{ lengthM: 5_000, bearingDeg: 80 }],
      haltS: 0,
    });
    const half = approach.points.slice(0, Math.ceil(approach.points.length / 2));
    const lengthMs = (points: readonly TracePoint[]) =>
      (points.at(-1)?.timeMs ?? 0) - coastDrive.startMs + 60_000;
    const first = shift(truth.points, lengthMs(half));
    const second = shift(truth.points, lengthMs(first));
    const day = [...half, ...first, ...second, ...shift(half, lengthMs(second))];
    const windows = windowsOnLoop(day, loop);
    expect(windows).toHaveLength(2);
    for (const [at, window] of windows.entries()) {
      const result = reduced(day, { window, loops: [loop] });
      expect(result.counts.byReason.outsideWindow).toBeGreaterThan(1000);
      expect(Math.abs(result.distanceM - truth.totalM)).toBeLessThan(20);
      expect(Math.abs(result.startMs - ((at === 0 ? first : second)[0]?.timeMs ?? 0))).toBeLessThan(61_000);
      expect(result.matches[0]?.isMatch).toBe(true);
    }
    expect(windowsOnLoop(half, loop)).toEqual([]);
    expect(reduced(day, { loops: [loop] }).matches[0]?.isMatch).toBe(false);
  });

  it('finds no turnaround on a ring', () => {
    const centre = { latitudeDeg: 47, longitudeDeg: 8 };
    const ring = Array.from({ length: 1200 }, (_, k): TracePoint => {
      const angle = (2 * Math.PI * k) / 1200;
      return {
        latitudeDeg: centre.latitudeDeg + 0.05 * Math.cos(angle),
        longitudeDeg: centre.longitudeDeg + 0.07 * Math.sin(angle),
        elevationM: null,
        timeMs: k * 1000,
        speedMps: null,
        powerW: null,
      };
    });
    const result = reduced(ring);
    expect(result.turnaround).toBeNull();
    expect(result.legs).toBeNull();
    expect(result.climb).toBeNull();
  });
});

describe('reduceTrace refuses or counts, never throws', () => {
  it('says what is missing', () => {
    expect(reduceTrace([])).toMatchObject({ ok: false, reason: 'tooFewPoints' });
    expect(reduceTrace(truth.points.map((point) => ({ ...point, timeMs: null })))).toMatchObject({
      ok: false,
      reason: 'noTimes',
    });
    const parked = truth.points.map((point) => ({ ...point, latitudeDeg: 47.3, longitudeDeg: 8.4 }));
    expect(reduceTrace(parked)).toMatchObject({ ok: false, reason: 'tooShort' });
    const slow = truth.points.map((point, k) => ({ ...point, timeMs: k * 60_000 }));
    expect(reduceTrace(slow)).toMatchObject({ ok: false, reason: 'tooLong' });
  });

  it('loses no point unsaid under any damage: given = used + excluded, all figures finite', () => {
    const base = drive({ ...coastDrive, pieces: [{ lengthM: 4000, bearingDeg: 20 }], stepS: 2 }).points;
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.nat({ max: base.length - 1 }),
            fc.integer({ min: -100_000, max: 100_000 }),
            fc.double({ min: -1, max: 1, noNaN: true }),
          ),
          { maxLength: 40 },
        ),
        (damage) => {
          const points = base.slice();
          for (const [at, ms, degrees] of damage) {
            const point = points[at] as TracePoint;
            points[at] = {
              ...point,
              timeMs: (point.timeMs ?? 0) + ms,
              latitudeDeg: point.latitudeDeg + degrees,
            };
          }
          const result = reduceTrace(points);
          expect(result.counts.used + result.counts.excluded).toBe(points.length);
          const reasons = Object.values(result.counts.byReason).reduce((sum, n) => sum + n, 0);
          expect(reasons).toBe(result.counts.excluded);
          if (result.ok) {
            expect(
              Number.isFinite(result.meanSquareSpeedM2S2 + result.distanceM + result.squaredSpeedDropM2S2),
            ).toBe(true);
            expect(result.profile.speedMps.every((v) => Number.isFinite(v) && v >= 0)).toBe(true);
          }
        },
      ),
    );
  });

  it('reads and reduces 12 000 points as it does few', () => {
    const dense = drive({ ...coastDrive, stepS: 0.1524 });
    const file = toGpx(dense.points);
    const parsed = parseGpx(file);
    if (!parsed.ok) throw new Error(parsed.message);
    const result = reduced(parsed.points);
    expect(parsed.points.length).toBeGreaterThan(11_000);
    expect(Math.abs(result.distanceM / truth.totalM - 1)).toBeLessThan(1e-4);
  });
});
