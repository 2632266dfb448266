import fc from 'fast-check';
import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { climbOf, heightProfileOf } from '@/lib/capture/trace/elevation';
import { simplify } from '@/lib/capture/trace/outline';
import { bearingsOf, placeAt, planeAt, routeOf } from '@/lib/capture/trace/route';
import { trimEnds } from '@/lib/capture/trace/trimEnds';
import { coastDrive, drive } from './syntheticDrive';

const metresBetween = (
  a: { latitudeDeg: number; longitudeDeg: number },
  b: { latitudeDeg: number; longitudeDeg: number },
) =>
  geodesic.Geodesic.WGS84.Inverse(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg).s12 as number;

describe('trimEnds', () => {
  const { points } = drive(coastDrive);

  it('leaves no point within the distance of either end, measured by GeographicLib', () => {
    fc.assert(
      fc.property(fc.integer({ min: 50, max: 5000 }), (trimM) => {
        const { stretches, given, removed } = trimEnds(points, trimM);
        const kept = stretches.flat();
        expect(kept.length + removed).toBe(given);
        expect(kept.length).toBeGreaterThan(0);
        for (const end of [points[0], points.at(-1)]) {
          if (end === undefined) continue;
          for (const point of [kept[0], kept.at(-1)]) {
            if (point !== undefined) expect(metresBetween(point, end)).toBeGreaterThan(trimM);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it('also hides a second pass by the start, and does not join over the hole', () => {
    const twice = [
      ...points,
      ...points.map((point) => ({ ...point, timeMs: (point.timeMs ?? 0) + 7_200_000 })),
    ];
    const { stretches } = trimEnds(twice, 500);
    expect(stretches).toHaveLength(2);
    const start = twice[0] as (typeof twice)[number];
    expect(Math.min(...stretches.flat().map((point) => metresBetween(point, start)))).toBeGreaterThan(500);
  });

  it('leaves nothing of a trace that never goes farther', () => {
    expect(trimEnds(points, 40_000).stretches).toEqual([]);
    expect(trimEnds([], 500)).toEqual({ stretches: [], given: 0, removed: 0 });
  });
});

describe('heights', () => {
  const along = Float64Array.from({ length: 2001 }, (_, k) => k * 10);
  const climb = (height: (alongM: number) => number) => {
    const profile = heightProfileOf(along, along.map(height));
    if (profile === null) throw new Error('no profile');
    return climbOf(profile, 0, 20_000);
  };

  it('keeps a steady grade exactly: 3 % of 20 km is 600 m, all of it up', () => {
    const { netM, upM, downM } = climb((x) => 0.03 * x);
    expect(netM).toBeCloseTo(600, 6);
    expect(upM).toBeCloseTo(600, 6);
    expect(downM).toBe(0);
  });

  it('counts waves by crest and trough: 5 waves of ± 20 m are 200 m up and 200 m down', () => {
    const { netM, upM, downM } = climb((x) => 20 * Math.sin((2 * Math.PI * x) / 4000));
    expect(netM).toBeCloseTo(0, 6);
    // A triangular window of half-width a takes 1 − (2πa/λ)²/12 = 0.5 % of a wave of 4 km.
    expect(upM).toBeGreaterThan(198);
    expect(upM).toBeLessThanOrEqual(200);
    expect(downM).toBeCloseTo(upM, 6);
  });

  it('does not count a wander of a metre', () => {
    const { upM, downM } = climb((x) => 0.9 * Math.sin(x / 700));
    expect([upM, downM]).toEqual([0, 0]);
  });

  it('up less down is net, within the dead band', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -30, max: 30, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (weights) => {
          const { netM, upM, downM } = climb((x) =>
            weights.reduce((sum, w, k) => sum + w * Math.sin((x * (k + 1)) / 5000 + k), 0),
          );
          expect(Math.abs(upM - downM - netM)).toBeLessThanOrEqual(4);
          expect(Math.min(upM, downM)).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });

  it('says nothing where most points have no height', () => {
    expect(
      heightProfileOf(
        along,
        along.map((_, k) => (k % 3 === 0 ? 100 : Number.NaN)),
      ),
    ).toBeNull();
  });
});

describe('bearings and outline', () => {
  const line = (bearing: number) => {
    const ends = [0, 5_000, 10_000].map((metres) => geodesic.Geodesic.WGS84.Direct(60, 20, bearing, metres));
    const [lat, lon] = [ends.map((e) => e.lat2 as number), ends.map((e) => e.lon2 as number)];
    const start = { latitudeDeg: 60, longitudeDeg: 20 };
    return routeOf(
      Float64Array.from(lat),
      Float64Array.from(lon),
      Float64Array.from([0, 5_000, 10_000]),
      planeAt(start),
    );
  };

  it('give mean square head- and crosswind of a straight road as cos² and sin² (method A4)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 359 }), fc.integer({ min: 0, max: 359 }), (road, wind) => {
        const { meanCos2, meanSin2 } = bearingsOf(line(road));
        const phi = (wind * Math.PI) / 180;
        const alongSquare = 0.5 * (1 + Math.cos(2 * phi) * meanCos2 + Math.sin(2 * phi) * meanSin2);
        // The bearing of a 10 km line at 60° turns by 0.16° along it.
        expect(alongSquare).toBeCloseTo(Math.cos(phi - (road * Math.PI) / 180) ** 2, 2);
      }),
    );
  });

  it('an outline keeps its ends and stays within the tolerance', () => {
    const { points, totalM } = drive(coastDrive);
    const lat = Float64Array.from(points, (p) => p.latitudeDeg);
    const lon = Float64Array.from(points, (p) => p.longitudeDeg);
    const distance = Float64Array.from(points, (_, k) => (k * totalM) / (points.length - 1));
    const route = routeOf(lat, lon, distance, planeAt(points[0] as (typeof points)[number]));
    const last = route.eastM.length - 1;
    const outline = simplify(route, 0, last, 15);
    expect(outline[0]).toEqual(placeAt(route, 0));
    expect(outline.at(-1)).toEqual(placeAt(route, last));
    expect(outline.length).toBeLessThan(40);
    expect(simplify(route, 0, last, 0.01).length).toBeGreaterThan(outline.length);
  });
});
