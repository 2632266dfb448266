import fc from 'fast-check';
import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { bearingDeg, distanceBetweenM, metresPerDegree, wrapDeg } from '@/lib/capture/trace/geodesic';

describe('distanceBetweenM', () => {
  // Karney's geodesic test cases as shipped with GeographicLib (Algorithms for geodesics, J. Geodesy 87 (2013) 43).
  it.each([
    [35.60777, -139.44815, -11.17491, -69.95921, 8935244.5604818],
    [55.52454, 106.05087, 77.03196, 197.18234, 4105086.1713924],
    [-21.97856, 142.59065, 41.84138, 98.56635, 8394328.8946577],
    [-66.99028, 112.2363, -12.70631, 285.90344, 11150344.231208],
    [-19.79938, -174.47484, -11.99349, -154.35109, 2319004.8601169],
  ])('from %f, %f to %f, %f is %f m', (lat1, lon1, lat2, lon2, metres) => {
    expect(Math.abs(distanceBetweenM(lat1, lon1, lat2, lon2) - metres)).toBeLessThan(1e-6);
  });

  it('agrees with the exact geodesic within 1 part in 10 million up to 2 km and 80° of latitude', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -79.9, max: 79.9, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 0.5, max: 2000, noNaN: true }),
        (lat, lon, azimuth, metres) => {
          const end = geodesic.Geodesic.WGS84.Direct(lat, lon, azimuth, metres);
          const error = distanceBetweenM(lat, lon, end.lat2 as number, end.lon2 as number) - metres;
          // Below 10 m the 15th digit of a longitude in degrees is itself worth nanometres.
          expect(Math.abs(error)).toBeLessThan(1e-7 * metres + 1e-8);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('agrees with the exact geodesic across the switch to it', () => {
    for (const metres of [1800, 1990, 2000, 2010, 2500, 20_000]) {
      const end = geodesic.Geodesic.WGS84.Direct(60, 20, 37, metres);
      expect(
        Math.abs(distanceBetweenM(60, 20, end.lat2 as number, end.lon2 as number) - metres),
      ).toBeLessThan(2e-4);
    }
  });

  it('steps over the date line', () => {
    expect(distanceBetweenM(-17, 179.9995, -17, -179.9995)).toBeCloseTo(
      distanceBetweenM(-17, 0, -17, 0.001),
      6,
    );
  });
});

// Flinders Peak to Buninyong, the worked example of the Australian geodetic manuals for Vincenty's formulae (Survey
// Review 23 (1975) 88), from memory: 54 972.271 m, forward azimuth 306°52′05.37″, reverse azimuth 127°10′25.07″.
describe('the line from Flinders Peak to Buninyong', () => {
  const dms = (degrees: number, minutes: number, seconds: number) => degrees + minutes / 60 + seconds / 3600;
  const flinders = [-dms(37, 57, 3.7203), dms(144, 25, 29.5244)] as const;
  const buninyong = [-dms(37, 39, 10.1561), dms(143, 55, 35.3839)] as const;

  it('is 54 972.271 m long, to the millimetre', () => {
    expect(Math.abs(distanceBetweenM(...flinders, ...buninyong) - 54_972.271)).toBeLessThan(1e-3);
  });

  it('is as long by steps of a kilometre, as recordings and outlines are summed', () => {
    const line = geodesic.Geodesic.WGS84.InverseLine(...flinders, ...buninyong);
    let metres = 0;
    let before: readonly [number, number] = flinders;
    for (let k = 1; k <= 55; k++) {
      const { lat2 = 0, lon2 = 0 } = line.Position((54_972.271 * k) / 55);
      metres += distanceBetweenM(...before, lat2, lon2);
      before = [lat2, lon2];
    }
    // u of a loop's length is metres; the steps add less than a hundredth of one
    expect(Math.abs(metres - 54_972.271)).toBeLessThan(0.01);
  });

  it('runs at its middle halfway between both published azimuths, which bearingDeg gives within 0.02°', () => {
    const middle = (dms(306, 52, 5.37) + dms(307, 10, 25.07)) / 2;
    expect(Math.abs(bearingDeg(...flinders, ...buninyong) - middle)).toBeLessThan(0.02);
  });
});

describe('metresPerDegree', () => {
  it('matches the lengths of a degree on WGS 84 (from memory of the usual table: 110.574 km and 111.320 km at 0°, 111.132 km and 78.847 km at 45°)', () => {
    expect(metresPerDegree(0).north / 1000).toBeCloseTo(110.574, 3);
    expect(metresPerDegree(0).east / 1000).toBeCloseTo(111.32, 2);
    expect(metresPerDegree(45).north / 1000).toBeCloseTo(111.132, 3);
    expect(metresPerDegree(45).east / 1000).toBeCloseTo(78.847, 3);
  });
});

describe('bearingDeg', () => {
  it('is the azimuth of the exact geodesic at its middle, within a hundredth of a degree', () => {
    for (const azimuth of [0, 45, 90, 135, 180, 225, 270, 315, 359]) {
      const line = geodesic.Geodesic.WGS84.DirectLine(50, 10, azimuth, 1000);
      const end = line.Position(1000);
      const middle = line.Position(500);
      const bearing = bearingDeg(50, 10, end.lat2 as number, end.lon2 as number);
      expect(Math.abs(wrapDeg(bearing - (middle.azi2 as number)))).toBeLessThan(0.01);
    }
  });
});
