import fc from 'fast-check';
import { expect, it } from 'vitest';
import { dateText, dayWords, midnightUtc, wallClock, wallClockWords } from '@/lib/run/localDate';
import { parseLocalStart } from '@/lib/run/localStart';

it('shows the clock of a place, across midnight and a year’s end', () => {
  const instantMs = Date.UTC(2025, 11, 31, 23, 40);
  expect(wallClock(instantMs, 60)).toBe('2026-01-01T00:40');
  expect(wallClockWords(instantMs, -210)).toBe('31\u00A0Dec\u00A02025, 20:10');
});

it('is turned back by the parser of a run’s start', () => {
  const minutes = fc.integer({ min: Date.UTC(2001, 0, 1) / 60_000, max: Date.UTC(2090, 0, 1) / 60_000 });
  fc.assert(
    fc.property(minutes, fc.integer({ min: -840, max: 840 }), (minute, offsetMin) => {
      const text = wallClock(minute * 60_000, offsetMin);
      const start = parseLocalStart(text, String(offsetMin), '2100-01-01T00:00:00Z', []);
      expect(Date.parse(start?.startedAt ?? '')).toBe(minute * 60_000);
      expect(start?.localDate).toBe(text.slice(0, 10));
      expect(dateText(midnightUtc(text.slice(0, 10)))).toBe(text.slice(0, 10));
    }),
  );
});

it('names a day so that nobody reads it the wrong way round', () => {
  expect(dayWords('2026-11-06')).toBe('6\u00A0Nov\u00A02026');
  expect(dayWords('')).toBe('');
  expect(dayWords('2026-13-06')).toBe('2026-13-06');
});

it('has no day without a date', () => {
  expect(dateText(null)).toBe('');
  expect(dateText(undefined, '–')).toBe('–');
});
