import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCsvTrace } from '@/lib/capture/trace/csvTrace';
import { parseGeoJson } from '@/lib/capture/trace/geojson';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { coastDrive, drive } from './syntheticDrive';

const truth = drive({ ...coastDrive, pieces: [{ lengthM: 5000, bearingDeg: 60 }] });

describe('parseCsvTrace', () => {
  const columns = {
    latitude: 1,
    longitude: 2,
    time: { column: 0, form: 'dateTime' },
    elevation: { column: 3, unit: 'ft' },
    speed: { column: 4, unit: 'mph' },
    power: { column: 5, unit: 'kW' },
  } as const;

  it('reads mapped columns in their own units', () => {
    const result = parseCsvTrace('t,lat,lon,alt,v,p\n2026-05-01T08:00:00Z,47.1,8.2,1000,70,-12.5\n', columns);
    if (!result.ok) throw new Error(result.message);
    const [point] = result.points;
    // 1 ft = 0.3048 m and 1 mph = 0.44704 m/s exactly (NIST SP 811, appendix B.8).
    expect(point?.elevationM).toBeCloseTo(304.8, 9);
    expect(point?.speedMps).toBeCloseTo(31.2928, 9);
    expect(point?.powerW).toBe(-12_500);
    expect(point?.timeMs).toBe(Date.UTC(2026, 4, 1, 8));
  });

  it('reads semicolons with decimal commas, and seconds since the start', () => {
    const text = 'Zeit;Breite;Länge\n0;47,5;8,25\n1,5;47,5001;8,2501\n';
    const mapping = {
      latitude: 1,
      longitude: 2,
      time: { column: 0, form: 'elapsedSeconds' },
      elapsedFromMs: 1000,
    } as const;
    const result = parseCsvTrace(Buffer.from(text, 'latin1'), mapping);
    if (!result.ok) throw new Error(result.message);
    expect(result.points.map(({ latitudeDeg, timeMs }) => [latitudeDeg, timeMs])).toEqual([
      [47.5, 1000],
      [47.5001, 2500],
    ]);
  });

  it('gives the same figures as the points themselves', () => {
    const rows = truth.points.map(
      (p) => `${(p.timeMs ?? 0) / 1000},${p.latitudeDeg},${p.longitudeDeg},${p.elevationM}`,
    );
    const result = parseCsvTrace(`t,lat,lon,ele\n${rows.join('\n')}`, {
      latitude: 1,
      longitude: 2,
      time: { column: 0, form: 'epochSeconds' },
      elevation: { column: 3, unit: 'm' },
    });
    if (!result.ok) throw new Error(result.message);
    expect(reduceTrace(result.points)).toEqual(reduceTrace(truth.points));
  });

  it('counts rows it cannot use and refuses a mapping beyond the file', () => {
    const text = 't,lat,lon,alt,v,p\nx,47,8\nx,,\nx,100,8\n\n';
    const result = parseCsvTrace(text, columns);
    if (!result.ok) throw new Error(result.message);
    expect([result.pointsRead, result.points.length, result.refusedPoints.length]).toEqual([3, 1, 2]);
    const beyond = parseCsvTrace(text, { latitude: 1, longitude: 9 });
    expect(!beyond.ok && beyond.message).toBe('The file has 6 columns; column 10 was asked for.');
    const empty = parseCsvTrace('lat,lon\n', { latitude: 0, longitude: 1 });
    expect(!empty.ok && empty.message).toBe('The file has a header but no rows.');
  });

  it('answers any bytes as data', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 300 }),
        (bytes) => void parseCsvTrace(bytes, { latitude: 0, longitude: 1 }),
      ),
    );
  });
});

describe('parseGeoJson by RFC 7946 (positions are longitude, latitude, height: 3.1.1)', () => {
  const feature = (geometry: unknown, properties: unknown = {}) =>
    JSON.stringify({ type: 'Feature', geometry, properties });

  it('reads the LineString of appendix A.2', () => {
    const result = parseGeoJson('{"type": "LineString", "coordinates": [[100.0, 0.0], [101.0, 1.0]]}');
    expect(result.ok && result.points.map((p) => [p.longitudeDeg, p.latitudeDeg, p.elevationM])).toEqual([
      [100, 0, null],
      [101, 1, null],
    ]);
  });

  it('reads both customs for times, also nested for several lines', () => {
    const line = [
      [8, 47, 400],
      [8.1, 47, 401],
    ];
    const times = ['2026-05-01T08:00:00Z', '2026-05-01T08:00:01Z'];
    const ms = times.map((time) => Date.parse(time));
    for (const properties of [{ coordTimes: times }, { times: ms }, { coordinateProperties: { times } }]) {
      const result = parseGeoJson(feature({ type: 'LineString', coordinates: line }, properties));
      expect(result.ok && result.points.map(({ timeMs }) => timeMs)).toEqual(ms);
    }
    const several = parseGeoJson(
      JSON.stringify({
        type: 'FeatureCollection',
        features: [
          JSON.parse(
            feature(
              { type: 'MultiLineString', coordinates: [line, line] },
              { coordTimes: [times, times], name: 'Plateau' },
            ),
          ),
        ],
      }),
    );
    expect(several.ok && [several.name, several.points.map(({ timeMs }) => timeMs)]).toEqual([
      'Plateau',
      [...ms, ...ms],
    ]);
  });

  it('refuses what is no line, and times that do not fit it', () => {
    const message = (text: string) => {
      const result = parseGeoJson(text);
      return result.ok ? 'accepted' : result.message;
    };
    expect(message('{')).toBe('The file is not well-formed JSON.');
    expect(message('[]')).toBe('The file holds no LineString.');
    expect(message(feature({ type: 'Point', coordinates: [1, 2] }))).toBe('The file holds no LineString.');
    expect(message(feature({ type: 'LineString', coordinates: [] }))).toBe(
      'The file holds a line without positions.',
    );
    expect(message(feature({ type: 'LineString', coordinates: [[1, 2]] }, { coordTimes: [] }))).toBe(
      'A line has 1 positions but 0 times.',
    );
    expect(message('['.repeat(200_000))).toBe('The file is not well-formed JSON.');
    const many = parseGeoJson(
      feature({
        type: 'LineString',
        coordinates: [
          [1, 2],
          [1, 2],
        ],
      }),
      { ...traceLimits, maxPoints: 1 },
    );
    expect(!many.ok && many.message).toBe('The trace has more than 1 points.');
  });

  it('answers any JSON as data, and loses no position unsaid', () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        parseGeoJson(text);
        parseGeoJson(
          `{"type":"Feature","geometry":{"type":"LineString","coordinates":${text}},"properties":{"times":${text}}}`,
        );
      }),
    );
    fc.assert(
      fc.property(fc.array(fc.anything()), (coordinates) => {
        const result = parseGeoJson(feature({ type: 'LineString', coordinates }));
        if (result.ok) expect(result.points.length + result.refusedPoints.length).toBe(result.pointsRead);
      }),
    );
  });
});
