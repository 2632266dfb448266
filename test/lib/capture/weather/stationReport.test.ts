import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sortGroups } from '@/lib/capture/weather/reportGroups';
import { parseStationReport, type StationReport } from '@/lib/capture/weather/stationReport';

const may22 = Date.UTC(2026, 4, 22, 16, 0);
function read(text: string, referenceMs = may22): StationReport {
  const report = parseStationReport(text, referenceMs);
  if (!report.ok) throw new Error(report.message);
  return report;
}
const message = (text: string, referenceMs = may22) => {
  const report = parseStationReport(text, referenceMs);
  return report.ok ? 'accepted' : report.message;
};
/** The international knot: 1852 m an hour, exactly (NIST SP 811, appendix B.8). */
const knot = 1852 / 3600;

describe('reports of the documents', () => {
  it('reads the METAR of ICAO Annex 3, example A3-1 (from memory)', () => {
    const report = read(
      'METAR YUDO 221630Z 24004MPS 0600 R12/1000U DZ FG SCT010 OVC020 17/16 Q1018 BECMG TL1700 0800 FG BECMG AT1800 9999 NSW',
    );
    expect(report).toMatchObject({
      station: 'YUDO',
      kind: 'METAR',
      timeMs: Date.UTC(2026, 4, 22, 16, 30),
      temperatureC: { value: 17, low: 16.5, high: 17.5 },
      dewPointC: { value: 16, low: 15.5, high: 16.5 },
      altimeterPa: { value: 101_800, low: 101_800, high: 101_900 },
      precipitation: 'rain',
      visibility: { distanceM: 600, isAtLeast: false },
      unread: [],
      notReported: [],
    });
    expect(report.wind).toMatchObject({
      fromDeg: 240,
      speedMps: { value: 4, low: 3.5, high: 4.5 },
      gustMps: null,
    });
  });

  it('reads the SPECI of ICAO Annex 3, example A3-2 (from memory)', () => {
    const report = read(
      'SPECI YUDO 151115Z 05025G37KT 3000 1200NE +TSRA BKN005CB 27/23 Q1008 TEMPO TL1200 0600 BECMG AT1200 8000 NSW NSC',
    );
    expect(report.kind).toBe('SPECI');
    expect(report.timeMs).toBe(Date.UTC(2026, 4, 15, 11, 15));
    expect(report.wind?.fromDeg).toBe(50);
    expect(report.wind?.speedMps.value).toBeCloseTo(25 * knot, 9);
    expect(report.wind?.gustMps).toBeCloseTo(37 * knot, 9);
    expect(report.precipitation).toBe('rain');
    expect(report.unread).toEqual([]);
  });

  it('reads the example of FMH-1, the United States handbook (from memory), with tenths from its remark', () => {
    const report = read(
      'METAR KABC 121755Z AUTO 21016G24KT 180V240 1SM R11/P6000FT -RA BR BKN015 OVC025 06/04 A2990 RMK AO2 PK WND 20032/25 WSHFT 1715 VIS 3/4V1 1/2 VIS 3/4 RWY11 RAB07 CIG 013V017 CIG 017 RWY11 PRESFR SLP125 P0003 60009 T00640036 10066 21012 58033 TSNO $',
      Date.UTC(2026, 4, 12),
    );
    expect(report.temperatureC).toEqual({ value: 6.4, low: 6.4 - 0.05, high: 6.4 + 0.05 });
    expect(report.dewPointC?.value).toBe(3.6);
    expect(report.isAutomatic).toBe(true);
    expect(report.wind).toMatchObject({ fromDeg: 210, variesBetweenDeg: [180, 240] });
    // 29.90 inHg at 3386.388640 Pa (NIST SP 811, conventional inch of mercury).
    expect(report.altimeterPa?.value).toBeCloseTo(101_253.02, 2);
    expect(report.visibility?.distanceM).toBeCloseTo(1609.344, 6);
    expect(report.precipitation).toBe('rain');
    expect(report.unread).toEqual([]);
  });

  it('reads variable and calm winds, CAVOK, frost and miles in fractions', () => {
    const open = read('YUDO 221630Z VRB02KT CAVOK M03/M10 Q0998=');
    expect(open).toMatchObject({
      kind: null,
      precipitation: 'none',
      visibility: { distanceM: 10_000, isAtLeast: true },
    });
    expect(open.wind?.fromDeg).toBeNull();
    expect(open.temperatureC?.value).toBe(-3);
    expect(open.dewPointC?.value).toBe(-10);
    const calm = read('METAR YUDO 221630Z 00000KT 9999 M00/M01 Q1013');
    expect(calm.wind?.speedMps).toEqual({ value: 0, low: 0, high: knot });
    expect(Object.is(calm.temperatureC?.value, 0)).toBe(true);
    expect(read('KABC 221630Z 36005KT 1 1/2SM 10/08 A3001').visibility?.distanceM).toBeCloseTo(
      1.5 * 1609.344,
      6,
    );
    expect(read('KABC 221630Z 36005KT P6SM 10/08 A3001').wind?.fromDeg).toBe(0);
  });

  it('derives humidity within the Magnus form’s own 0.3 % of the IAPWS-IF97 vapour pressures', () => {
    const humidity = read('YUDO 221630Z 24004MPS 9999 20/10 Q1018').relativeHumidity;
    // IAPWS-IF97: 1228.18 Pa at 10 °C over 2339.21 Pa at 20 °C.
    expect(Math.abs((humidity?.value ?? 0) / (1228.18 / 2339.21) - 1)).toBeLessThan(0.003);
    expect(humidity !== null && humidity.low < humidity.value && humidity.value < humidity.high).toBe(true);
  });
});

describe('what is missing or wrong is said, not guessed', () => {
  it('takes slashes for not reported', () => {
    const report = read('METAR YUDO 221630Z AUTO /////KT //// // ////// ///// Q////');
    expect(report.notReported).toEqual(['/////KT', '////', '//', '//////', '/////', 'Q////']);
    expect(report.unread).toEqual([]);
    expect([report.wind, report.temperatureC, report.altimeterPa, report.precipitation]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });

  it('lists groups of no known form and leaves their values out', () => {
    const report = read('METAR YUDO 221630Z 2404MPS 9999 1O/08 Q10A8 HELLO');
    expect(report.unread).toEqual(['2404MPS', '1O/08', 'Q10A8', 'HELLO']);
    expect([report.wind, report.temperatureC, report.altimeterPa]).toEqual([null, null, null]);
  });

  it('lists impossible directions, pressures and second groups', () => {
    expect(read('YUDO 221630Z 37010KT 9999 10/08 Q1013').unread).toEqual(['37010KT']);
    expect(read('YUDO 221630Z 24010KT 9999 10/08 Q0013').unread).toEqual(['Q0013']);
    const twice = read('YUDO 221630Z 24010KT 9999 10/08 12/08 Q1013');
    expect(twice.unread).toEqual(['12/08']);
    expect(twice.temperatureC?.value).toBe(10);
    expect(read('YUDO 221630Z 24010KT 9999 10/08 Q1013 A2992').altimeterPa?.value).toBeCloseTo(101_320.7, 0);
    expect(read('YUDO 221630Z 24010KT 9999 10/08 Q1013 A2892').unread).toEqual(['Q1013', 'A2892']);
  });

  it('does not take forecasts and remarks for observations', () => {
    const report = read('YUDO 221630Z 24010KT 9999 10/08 Q1013 TEMPO 3000 SN RMK 99/99 WINDY');
    expect(report).toMatchObject({ precipitation: 'none', unread: [] });
    expect(report.temperatureC?.value).toBe(10);
  });

  it('keeps the temperature when the dew point is missing', () => {
    for (const group of ['17///', '17/', 'M02///']) {
      const report = read(`METAR YUDO 221630Z 24004MPS 9999 ${group} Q1018`);
      expect(report.temperatureC?.value).toBe(group.startsWith('M') ? -2 : 17);
      expect([report.dewPointC, report.relativeHumidity]).toEqual([null, null]);
      expect(report.unread).toEqual([]);
    }
    expect(read('METAR YUDO 221630Z 24004MPS 9999 08/17 Q1018').unread).toEqual(['08/17']);
  });

  it.each([
    ['2401525KT', 'a gust without its G'],
    ['24015 25KT', 'the same in two words'],
    ['24015G08KT', 'a gust below the mean'],
    ['24015G15KT', 'a gust equal to it'],
    ['240115KT', 'a hurricane'],
    ['24015G150KT', 'a gust of one'],
    ['24080MPS', 'metres a second for knots'],
    ['240015KT', 'a nought too many'],
  ])('shows %s as not read (%s) and gives no wind', (group) => {
    const report = read(`METAR YUDO 221630Z ${group} 9999 10/08 Q1013`);
    expect(report.unread).toEqual(group.split(' '));
    expect(report.wind).toBeNull();
    expect(report.temperatureC?.value).toBe(10);
  });

  it.each([
    'TAF YUDO 221100Z 2212/2312 24010KT 9999 SCT030 TEMPO 2215/2218 4000 SHRA',
    'YUDO 221100Z 2212/2312 24010KT 9999 SCT030',
    'KABC 221130Z 24010KT P6SM SCT030 FM221800 26012KT P6SM SKC',
  ])('refuses a forecast: %s', (text) => {
    expect(message(text)).toContain('forecast');
  });

  it('drops nothing in silence: words before, between and after, trend and remarks each stand somewhere', () => {
    const text =
      'METAR FROM YUDO 221630Z NICE 24010KT REPORT 9999 ALL 10/08 Q1013 TEMPO 3000 SN RMK WINDY= AND MORE';
    const report = read(text);
    expect(report.station).toBe('YUDO');
    expect(report.unread).toEqual(['FROM', 'NICE', 'REPORT', 'ALL', 'AND', 'MORE']);
    expect(report.forecast).toEqual(['TEMPO', '3000', 'SN']);
    expect(report.remarks).toEqual(['WINDY']);
    expect(read('YUDO 221630Z 24010KT 9999 10/08 Q1013 WS ALL RWY').unread).toEqual([]);
    // every word of any report is in one of the lists
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[A-Z0-9/]{1,8}$/), { maxLength: 12 }), (words) => {
        const body = ['YUDO', '221630Z', ...words];
        const sorted = sortGroups(body.join(' '));
        const listed = [
          ...sorted.groups.map((group) => group.text),
          ...sorted.notReported,
          ...sorted.unread,
          ...sorted.forecast,
          ...sorted.remarks,
        ];
        const named = words.includes('RMK') ? [...listed, 'RMK'] : listed;
        expect(named.toSorted()).toEqual(body.toSorted());
      }),
    );
  });

  it.each([
    ['-SN', 'snow'],
    ['RASN', 'snow'],
    ['SHRA', 'rain'],
    ['+TSRAGR', 'snow'],
    ['FZDZ', 'rain'],
    ['VCSH', 'none'],
    ['TS', 'none'],
    ['BLSN', 'none'],
    ['DRSN', 'none'],
    ['FG', 'none'],
    ['RERA', 'none'],
    ['BCFG', 'none'],
  ])('tells from %s: %s', (group, precipitation) => {
    const report = read(`METAR YUDO 221630Z 24010KT 3000 ${group} OVC010 05/04 Q1013`);
    expect(report.precipitation).toBe(precipitation);
    expect(report.unread).toEqual([]);
  });

  it('refuses what is no report, or of no near day', () => {
    expect(message('')).toContain('no station');
    expect(message('METAR YUDO 24004MPS 9999')).toContain('no time');
    expect(message('METAR YUDO 221630Z NIL=')).toContain('no observation');
    expect(message('METAR YUDO 222460Z 24004MPS')).toContain('no real time');
    expect(message('METAR YUDO 311200Z 24004MPS', Date.UTC(2026, 3, 15))).toContain('no real time');
    expect(message('x'.repeat(3000))).toContain('too long');
  });

  it('finds month and year over their ends', () => {
    expect(read('YUDO 312350Z 24010KT CAVOK 10/08 Q1013', Date.UTC(2027, 0, 1, 0, 10)).timeMs).toBe(
      Date.UTC(2026, 11, 31, 23, 50),
    );
    expect(read('YUDO 010010Z 24010KT CAVOK 10/08 Q1013', Date.UTC(2028, 1, 29, 23, 50)).timeMs).toBe(
      Date.UTC(2028, 2, 1, 0, 10),
    );
  });

  it('answers any text as data; what it reads is within bounds', () => {
    const group = fc.oneof(
      fc.constantFrom(
        'METAR',
        'AUTO',
        'YUDO',
        '221630Z',
        '24004MPS',
        'VRB02KT',
        '9999',
        'CAVOK',
        '17/16',
        'M05/',
        'Q1018',
        'A2992',
        'RMK',
        'T01221006',
        '-RA',
        '1 1/2SM',
        'R12/1000U',
        '//',
        '///',
      ),
      fc.string({ maxLength: 12 }),
      fc.stringMatching(/^[A-Z0-9/]{1,8}$/),
    );
    fc.assert(
      fc.property(fc.array(group, { maxLength: 14 }), (groups) => {
        const report = parseStationReport(groups.join(' '), may22);
        if (!report.ok) return;
        expect(Math.abs(report.timeMs - may22)).toBeLessThanOrEqual(14 * 86_400_000);
        for (const interval of [
          report.temperatureC,
          report.dewPointC,
          report.relativeHumidity,
          report.altimeterPa,
          report.wind?.speedMps,
        ]) {
          if (interval != null)
            expect(interval.low <= interval.value && interval.value <= interval.high).toBe(true);
        }
        if (report.relativeHumidity !== null) expect(report.relativeHumidity.high).toBeLessThanOrEqual(1);
      }),
      { numRuns: 500 },
    );
  });
});
