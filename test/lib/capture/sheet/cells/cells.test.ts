import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateIn, dateTimeIn, isOrderOpen, orderTold, timeIn } from '@/lib/capture/sheet/cells/date';
import { durationIn } from '@/lib/capture/sheet/cells/duration';
import { isUntold, markTold, plainDigits, quantityIn } from '@/lib/capture/sheet/cells/number';
import { compassDegrees, isCalm, isUnknownDirection, windIn } from '@/lib/capture/sheet/cells/wind';
import { unitsLike } from '@/lib/units/spellings';

describe('a number with its unit', () => {
  it.each([
    ['8 °C', 'degC', { digits: '8', unit: 'degC' }],
    ['46F', 'degC', { digits: '46', unit: 'degF' }],
    ['72.4 km', 'km', { digits: '72.4', unit: 'km' }],
    ['45 miles', 'km', { digits: '45', unit: 'mi' }],
    ['29.92 in Hg', 'hPa', { digits: '29.92', unit: 'inHg' }],
    ['1.013,2', 'hPa', { digits: '1013.2' }],
    ['1,013.2 mb', 'hPa', { digits: '1013.2', unit: 'hPa' }],
    ["1'013.25", 'hPa', { digits: '1013.25' }],
    ['3,10', 'mi/kWh', { digits: '3.10' }],
    ['-4.50', 'degC', { digits: '-4.50' }],
    ['80%', '%', { digits: '80', unit: '%' }],
    ['58 min', 'min', { digits: '58', unit: 'min' }],
  ] as const)('%s', (text, unit, meant) => {
    expect(quantityIn(text, unitsLike(unit), 'point')).toEqual(meant);
  });

  it.each(['about 100', '72.4 bananas', '~24', '', '24 kWh?', '10-12'])('%s is none', (text) => {
    expect(quantityIn(text, unitsLike('km'), 'point')).toBeUndefined();
  });

  it('is told by its marks, and only where three digits behind one mark could be thousands it is not', () => {
    expect(['24.6', '24,60', '0,950', '1.013,2', '1.234.567'].map(markTold)).toEqual([
      'point',
      'comma',
      'comma',
      'comma',
      'comma',
    ]);
    expect(['1,013', '24.100', '999.999'].map(isUntold)).toEqual([true, true, true]);
    expect(['0.950', '24', '1234.567'].map(isUntold)).toEqual([false, false, false]);
  });

  it('written with groups and any mark is the number itself, every decimal kept', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 999_999_999 }),
        fc.integer({ min: 0, max: 4 }),
        fc.constantFrom('point' as const, 'comma' as const),
        (digits, decimals, mark) => {
          const value = digits / 10 ** decimals;
          // As ECMA-402 writes them: German groups by points, English by commas.
          const written = value.toLocaleString(mark === 'comma' ? 'de-DE' : 'en-GB', {
            minimumFractionDigits: decimals,
            maximumFractionDigits: decimals,
          });
          expect(plainDigits(written, mark)).toBe(value.toFixed(decimals));
        },
      ),
    );
  });
});

describe('a date', () => {
  it.each([
    ['2025-03-14', undefined, '2025-03-14'],
    ['2025/3/4', undefined, '2025-03-04'],
    ['14.03.2025', undefined, '2025-03-14'],
    ['3/14/2025', undefined, '2025-03-14'],
    ['3/4/25', 'mdy', '2025-03-04'],
    ['3/4/25', 'dmy', '2025-04-03'],
    ['14 Mar 2025', undefined, '2025-03-14'],
    ['Friday, 14th March 2025', undefined, '2025-03-14'],
    ['Mar 14, 2025', undefined, '2025-03-14'],
    ['5/5/2025', undefined, '2025-05-05'],
  ] as const)('%s (%s)', (text, order, date) => {
    expect(dateIn(text, order)?.date).toBe(date);
  });

  it('is open where both orders give a day, and asked then', () => {
    expect(isOrderOpen('3/4/2025')).toBe(true);
    expect(dateIn('3/4/2025', undefined)).toBeUndefined();
    expect([orderTold('14/3/2025'), orderTold('3/14/2025'), orderTold('3/4/2025')]).toEqual([
      'dmy',
      'mdy',
      undefined,
    ]);
  });

  it.each([
    ['9:10 AM', '09:10'],
    ['12:05 am', '00:05'],
    ['12:05 p.m.', '12:05'],
    ['9 pm', '21:00'],
    ['17.45', '17:45'],
    ['10:20:00', '10:20:00'],
  ])('of the clock: %s', (text, time) => {
    expect(timeIn(text)).toBe(time);
  });

  it.each(['25:00', '9:75', '13:10 PM', '0:10 AM', 'noon-ish', ''])('no time: %s', (text) => {
    expect(timeIn(text)).toBeUndefined();
  });

  it('stands with its time in one cell', () => {
    expect(dateTimeIn('3/14/2025, 9:10 AM', undefined)).toBe('2025-03-14 09:10');
    expect(dateTimeIn('2025-03-14T09:10', undefined)).toBe('2025-03-14 09:10');
    expect(dateTimeIn('2025-03-14', undefined)).toBeUndefined();
  });

  it('as a spreadsheet of another country writes it is the same day', () => {
    const days = fc.date({ min: new Date('2001-01-01'), max: new Date('2098-12-31'), noInvalidDate: true });
    fc.assert(
      fc.property(days, fc.constantFrom('en-GB', 'en-US', 'de-DE'), (day, locale) => {
        const iso = day.toISOString().slice(0, 10);
        const written = day.toLocaleDateString(locale, { timeZone: 'UTC' });
        expect(dateIn(written, locale === 'en-US' ? 'mdy' : 'dmy')?.date).toBe(iso);
        const long = day.toLocaleDateString('en-GB', { dateStyle: 'long', timeZone: 'UTC' });
        expect(dateIn(long, undefined)?.date).toBe(iso);
      }),
    );
  });
});

describe('a duration', () => {
  it.each([
    ['40:36', '0:40:36'],
    ['58:02', '0:58:02'],
    ['75:10', '1:15:10'],
    ['0:58', '0:58'],
    ['1:02', '1:02'],
    ['1:02:30', '1:02:30'],
    ['1h05', '1:05'],
    ['1 h 5 min', '1:05'],
    ['40 min 36 s', '0:40:36'],
  ])('%s', (text, meant) => {
    expect(durationIn(text)).toBe(meant);
  });

  it.each(['58', '58 min', '', 'an hour', '1:75:10'])('%s is a number, or nothing', (text) => {
    expect(durationIn(text)).toBeUndefined();
  });
});

describe('the wind', () => {
  it('by the compass', () => {
    expect(['N', 'SW', 'wnw', 'south-west', 'North East', 'westerly'].map(compassDegrees)).toEqual([
      0, 225, 292.5, 225, 45, 270,
    ]);
    expect(['225', 'variable', ''].map(compassDegrees)).toEqual([undefined, undefined, undefined]);
  });

  it('from a direction that nobody noted', () => {
    expect(['?', 'Unknown', 'n/a', 'not known', 'VRB'].map(isUnknownDirection)).toEqual(Array(5).fill(true));
    expect(['SW', '225', '', '0'].map(isUnknownDirection)).toEqual(Array(4).fill(false));
  });

  it('as a word, and with its direction in one cell', () => {
    expect([isCalm('Calm'), isCalm('no wind'), isCalm('2')]).toEqual([true, true, false]);
    expect(windIn('SW 10 kn')).toEqual({ speed: '10 kn', degrees: 225 });
    expect(windIn('8 mph NE')).toEqual({ speed: '8 mph', degrees: 45 });
    expect(windIn('8 mph')).toBeUndefined();
  });
});
