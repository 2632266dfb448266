import { describe, expect, it } from 'vitest';
import { reportsOverRun } from '@/lib/capture/weather/reportsOverRun';
import { splitReports } from '@/lib/capture/weather/splitReports';
import { weatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import { completeForm } from '@/test/helpers/runForms';

const now = '2026-11-01T12:00:00Z';
// 09:30 at UTC+1 on 14 May is 08:30Z; the run takes 61 minutes.
const form = completeForm({ relativeHumidity: '' });
const two = `METAR XAIS 140820Z 24010KT 9999 SCT030 16/09 Q1013=
SPECI XAIS 140950Z 26014G24KT 9999 -RA BKN020 18/11 Q1012 XYZZY=`;

describe('several reports in one text', () => {
  it('takes a line each, an indented line with the one above, and the end mark', () => {
    expect(splitReports('METAR A\n  more\n\nMETAR B=METAR C=')).toEqual([
      'METAR A more',
      'METAR B',
      'METAR C',
    ]);
  });
});

describe('reports over the time of a run', () => {
  it('interpolates between them', () => {
    const at = Date.UTC(2026, 4, 14, 9, 5);
    const { conditions } = reportsOverRun(two, { startMs: at, endMs: at + 1000, stationDistanceM: 0 });
    // 09:05 is the middle of 08:20 and 09:50: 17 °C by hand
    expect(conditions?.temperatureC?.value).toBeCloseTo(17, 2);
  });

  it('says of each which could not be read', () => {
    const { reports } = reportsOverRun(`nonsense\n${two}`, {
      startMs: Date.UTC(2026, 4, 14, 8, 30),
      endMs: Date.UTC(2026, 4, 14, 9, 31),
      stationDistanceM: 0,
    });
    expect(reports.map(({ refusal }) => refusal !== '')).toEqual([true, false, false]);
    expect(reports[2]?.report?.unread).toEqual(['XYZZY']);
  });
});

describe('values for the form', () => {
  it('fills what the reports say in the units of the form, with the text as the source', () => {
    const { fill, values, issues } = weatherOfForm(two, { ...form, windSpeedUnit: 'kn' }, now);
    expect(issues).toEqual([]);
    expect(fill).toMatchObject({
      conditionsSource: 'stationReport',
      pressureKind: 'qnh',
      precipitation: 'rain',
      windGust: '24',
      windSpeedUnit: 'kn',
    });
    expect(fill.stationReport?.split('\n')).toHaveLength(2);
    // between 16 and 18 °C at 08:30 … 09:31, by hand: the mean of 16.22 and 17.58
    // whole degrees and knots, as reported
    expect(fill.airTemperature).toBe('17');
    expect(fill.windSpeed).toBe('12');
    // QNH is cut down to whole hectopascals: the middle of the step is meant
    expect(Number(fill.airPressure)).toBeCloseTo(1013, 0);
    expect(values.find(({ name }) => name === 'airTemperature')?.shown).toMatch(/±/);
    expect(values.find(({ name }) => name === 'airTemperature')?.typed).toMatch(/^18/);
    expect(fill.relativeHumidity).toBeUndefined();
  });

  it('fills a humidity that is typed already, so that it cannot contradict the dew point', () => {
    const { fill } = weatherOfForm(two, completeForm(), now);
    // 16.9 °C and a dew point of 9.9 °C: 63 % by the Magnus form, by hand
    expect(Number(fill.relativeHumidity)).toBeCloseTo(63, -1);
    expect(fill.dewPoint).toBeDefined();
  });

  it('needs a start to know which reports count, and reports near it', () => {
    expect(weatherOfForm(two, { ...form, startedAtLocal: '' }, now).issues[0]?.path).toBe('startedAtLocal');
    const far = weatherOfForm('METAR XAIS 140220Z 24010KT 16/09 Q1013', form, now);
    expect(far.issues[0]).toMatchObject({
      path: 'stationReport',
      what: expect.stringContaining('two hours'),
    });
    expect(far.fill).toEqual({});
  });
});
