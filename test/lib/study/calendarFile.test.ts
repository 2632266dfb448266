import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { type CalendarDay, calendarFile } from '@/lib/study/calendarFile';

const STAMP = new Date('2026-11-27T03:04:05Z');

/** By a parser that is not ours. */
function parsed(file: string) {
  const calendar = new ICAL.Component(ICAL.parse(file));
  return calendar.getAllSubcomponents('vevent').map((component) => new ICAL.Event(component));
}

describe('a calendar of a study', () => {
  it('is read back by another’s parser', () => {
    const day: CalendarDay = {
      uid: 'ride-height-1@evenloop',
      day: '2026-12-31',
      title: 'Ride height, day 1 of 4: A B B A',
      text: 'A: as delivered; B: low\nObey posted limits \\ local law, which come first.',
      url: 'https://runs.example.org/studies/ride-height',
    };
    const [event] = parsed(calendarFile('Ride height', [day], STAMP));
    expect(event?.uid).toBe(day.uid);
    expect(event?.summary).toBe(day.title);
    expect(event?.description).toBe(day.text);
    expect(event?.startDate.toString()).toBe('2026-12-31');
    expect(event?.startDate.isDate).toBe(true);
    expect(event?.endDate.toString()).toBe('2027-01-01');
    expect(event?.component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-11-27T03:04:05Z');
    expect(event?.component.getFirstPropertyValue('url')).toBe(day.url);
  });

  it('keeps any text, in lines of 75 octets', () => {
    const text = fc
      .string({ unit: 'grapheme', maxLength: 300 })
      .map((one) => one.replace(/[\p{Cc}\p{Zl}\p{Zp}]/gu, ' '));
    fc.assert(
      fc.property(fc.array(text, { minLength: 1, maxLength: 3 }), (titles) => {
        const days = titles.map((title, i) => ({
          uid: `${i}@evenloop`,
          day: '2026-12-01',
          title: `x${title}x`,
          text: title,
          url: 'https://runs.example.org/',
        }));
        const file = calendarFile('Study', days, STAMP);
        for (const line of file.split('\r\n')) {
          expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
          expect(line).not.toMatch(/[\r\n]/);
        }
        expect(parsed(file).map(({ summary }) => summary)).toEqual(days.map(({ title }) => title));
      }),
      { seed: 2 },
    );
  });
});
