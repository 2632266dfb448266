import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conditionsOver,
  type RunConditions,
  stationDistancePriors,
  timeMean,
} from '@/lib/capture/weather/conditions';
import { parseStationReport, type StationReport } from '@/lib/capture/weather/stationReport';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { asJudged, say } from '@/lib/units/said';

const at = (hour: number, minute = 0) => Date.UTC(2026, 4, 22, hour, minute);
function report(time: string, body: string): StationReport {
  const read = parseStationReport(`METAR YUDO 22${time}Z ${body}`, at(12));
  if (!read.ok) throw new Error(read.message);
  return read;
}
const run = { startMs: at(10), endMs: at(11), stationDistanceM: 0 };
function over(reports: StationReport[], options = {}): RunConditions {
  const result = conditionsOver(reports, { ...run, ...options });
  if (!result.ok) throw new Error(result.message);
  return result;
}

describe('timeMean', () => {
  it('is the middle of a straight change, and weighs a kink by its time', () => {
    const window = { startMs: 0, endMs: 100 };
    expect(
      timeMean(
        [
          { timeMs: 0, value: 10 },
          { timeMs: 100, value: 20 },
        ],
        window,
      ),
    ).toBe(15);
    // 0 → 10 over 20 ms, then held: 100 + 800 over 100.
    expect(
      timeMean(
        [
          { timeMs: 0, value: 0 },
          { timeMs: 20, value: 10 },
        ],
        window,
      ),
    ).toBe(9);
    expect(timeMean([{ timeMs: 500, value: 7 }], window)).toBe(7);
  });

  it('lies between the extremes and does not care for a point on the line', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { minLength: 2, maxLength: 8 }),
        (values) => {
          const points = values.map((value, k) => ({ timeMs: k * 60, value }));
          const mean = timeMean(points, { startMs: -30, endMs: 300 });
          expect(mean).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
          expect(mean).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
          const [a, b] = points as [(typeof points)[number], (typeof points)[number]];
          const between = { timeMs: 30, value: (a.value + b.value) / 2 };
          expect(timeMean([a, between, ...points.slice(1)], { startMs: -30, endMs: 300 })).toBeCloseTo(
            mean,
            9,
          );
        },
      ),
    );
  });
});

describe('conditionsOver', () => {
  it('takes one report as it stands, with its rounding', () => {
    const result = over([report('1030', '24010KT 9999 20/10 Q1013')]);
    expect(result.temperatureC?.value).toBe(20);
    // Rectangular over 1 K is 1/√12 K (JCGM 100, 4.3.7); beside it the prior at the fence.
    expect(result.temperatureC?.u).toBeCloseTo(
      Math.hypot(1 / Math.sqrt(12), stationDistancePriors.temperatureC.base),
      9,
    );
    // QNH is rounded downwards (ICAO Annex 3): the middle of its step is half a hectopascal up.
    expect(result.altimeterPa?.value).toBe(101_350);
    expect(result.windFromDeg).toBeCloseTo(240, 9);
    expect(result.windSteadiness).toBeCloseTo(1, 9);
    expect(result.nearestReportS).toBe(0);
  });

  it('interpolates to the middle of the run and counts the change as uncertainty', () => {
    const result = over([
      report('1000', '24010KT 9999 18/10 Q1013'),
      report('1100', '24010KT 9999 22/10 Q1013'),
    ]);
    expect(result.temperatureC?.value).toBeCloseTo(20, 9);
    expect(result.temperatureC?.u).toBeGreaterThan(4 / Math.sqrt(12));
  });

  it('averages wind as a vector over north, not as a number', () => {
    const result = over([
      report('1000', '35010KT 9999 18/10 Q1013'),
      report('1100', '01010KT 9999 18/10 Q1013'),
    ]);
    expect(Math.min(result.windFromDeg ?? 180, 360 - (result.windFromDeg ?? 180))).toBeLessThan(1e-6);
    expect(result.windSteadiness).toBeCloseTo(Math.cos((10 * Math.PI) / 180), 9);
    expect(result.windSpeedMps?.value).toBeCloseTo((10 * 1852) / 3600, 9);
  });

  it('says no direction when all is variable, and when winds oppose', () => {
    expect(over([report('1030', 'VRB02KT 9999 18/10 Q1013')]).windFromDeg).toBeNull();
    const opposed = over([
      report('1000', '36010KT 9999 18/10 Q1013'),
      report('1100', '18010KT 9999 18/10 Q1013'),
    ]);
    expect(opposed.windFromDeg).toBeNull();
    expect(opposed.windSpeedMps?.value).toBeGreaterThan(5);
  });

  it('grows less sure with distance, and cooler with height by the lapse of ISO 2533', () => {
    const reports = [report('1030', '24010KT 9999 20/10 Q1013')];
    const [near, far] = [over(reports), over(reports, { stationDistanceM: 80_000 })];
    for (const quantity of ['temperatureC', 'altimeterPa', 'windSpeedMps', 'relativeHumidity'] as const) {
      expect(far[quantity]?.u ?? 0).toBeGreaterThan(near[quantity]?.u ?? 1);
      expect(far[quantity]?.value).toBe(near[quantity]?.value);
    }
    expect(far.notes.map(asJudged)).toEqual(['The station is 80\u202Fkm away.']);
    expect(far.notes.map((note) => say(note, { ...DEFAULT_PREFERENCES, distance: 'mi' }))).toEqual([
      'The station is 50\u202Fmi away.',
    ]);
    expect(over(reports, { heightAboveStationM: 1000 }).temperatureC?.value).toBeCloseTo(13.5, 9);
  });

  it('keeps the worst precipitation and the highest gust, and a correction in place of its original', () => {
    const result = over([
      report('1000', '24010G25KT 9999 18/10 Q1013'),
      report('1030', '24010G31KT 4000 RA 18/10 Q1013'),
      report('1100', '24010KT 9999 18/10 Q1013'),
    ]);
    expect(result.precipitation).toBe('rain');
    expect(result.gustMps).toBeCloseTo((31 * 1852) / 3600, 9);
    const corrected = over([
      report('1030', '24010KT 9999 28/10 Q1013'),
      report('1030', 'COR 24010KT 9999 18/10 Q1013'),
    ]);
    expect([corrected.reportsUsed, corrected.temperatureC?.value]).toEqual([1, 18]);
  });

  it('leaves out what no report says', () => {
    const result = over([report('1030', 'AUTO /////KT //// // ////// ///// Q////')]);
    expect([
      result.temperatureC,
      result.relativeHumidity,
      result.altimeterPa,
      result.windSpeedMps,
      result.precipitation,
    ]).toEqual([null, null, null, null, null]);
  });

  it('refuses other days, mixed stations and a run that ends before it starts', () => {
    expect(conditionsOver([report('0700', '24010KT 9999 18/10 Q1013')], run)).toMatchObject({
      ok: false,
      message: 'No report lies within two hours of the run.',
    });
    const other = { ...report('1030', '24010KT 9999 18/10 Q1013'), station: 'YUDD' };
    expect(conditionsOver([report('1030', '24010KT 9999 18/10 Q1013'), other], run)).toMatchObject({
      ok: false,
    });
    expect(conditionsOver([], { ...run, endMs: run.startMs })).toMatchObject({ ok: false });
  });
});
