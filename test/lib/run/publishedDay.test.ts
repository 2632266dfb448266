import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateText, dayWords, momentWords } from '@/lib/run/localDate';
import { countedDay, firstOfMonth, publishedDay, publishedText } from '@/lib/run/publishedDay';

const days = fc
  .integer({ min: Date.UTC(1990, 0, 1) / 86_400_000, max: Date.UTC(2090, 0, 1) / 86_400_000 })
  .map((day) => new Date(day * 86_400_000));

describe('what is published of a day', () => {
  it('is the day, or the month and nothing that two days of it differ in', () => {
    fc.assert(
      fc.property(days, days, (one, other) => {
        const shown = (day: Date) => {
          const kept = publishedDay(day, 'month');
          return [publishedText(kept.publishedDay, kept.monthOnly), dateText(kept.publishedDay)];
        };
        const isSameMonth = dateText(one).slice(0, 7) === dateText(other).slice(0, 7);
        expect(shown(one).join() === shown(other).join()).toBe(isSameMonth);
        expect(dateText(one).startsWith(shown(one)[0] ?? '?')).toBe(true);
        const whole = publishedDay(one, 'day');
        expect(publishedText(whole.publishedDay, whole.monthOnly)).toBe(dateText(one));
      }),
    );
  });

  it('keeps the order of months, as both the row’s day and its text', () => {
    fc.assert(
      fc.property(days, days, (one, other) => {
        const [a, b] = [one, other].sort((x, y) => x.getTime() - y.getTime()) as [Date, Date];
        expect(firstOfMonth(a) <= firstOfMonth(b)).toBe(true);
        expect(publishedText(a, true) <= publishedText(b, true)).toBe(true);
        expect(firstOfMonth(a) <= a).toBe(true);
      }),
    );
  });

  it('is said in words, and is nothing where there is no day', () => {
    expect(dayWords('2026-11')).toBe('Nov\u00A02026');
    expect(dayWords('2026-13')).toBe('2026-13');
    expect(momentWords('2026-11', 120)).toBe('Nov\u00A02026');
    expect(momentWords('2026-11-06T10:20:00.000Z', 120)).toBe('6\u00A0Nov\u00A02026, 12:20');
    expect(publishedText(null, true)).toBe('');
    expect(publishedText(undefined, false)).toBe('');
  });

  it('counts as a day of its own, so that a count does not say with whose day it fell together', () => {
    const day = '2026-11-01';
    const open = { day, monthOnly: false, sessionId: 'one' };
    expect(countedDay(open)).toBe(countedDay({ ...open, sessionId: 'two' }));
    const kept = { day, monthOnly: true, sessionId: 'one' };
    expect(countedDay(kept)).toBe(countedDay({ ...kept }));
    expect(countedDay(kept)).not.toBe(countedDay({ ...kept, sessionId: 'two' }));
    expect(countedDay(kept)).not.toBe(countedDay(open));
  });
});
