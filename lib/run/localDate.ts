/**
 * Days and clocks at a place. A day is kept as its name, yyyy-mm-dd (ISO 8601), and in the database as midnight UTC of
 * that name; a clock is an instant moved by its offset from UTC, in minutes, east positive.
 */

/** The day of a date out of the database, or of an instant by UTC; the empty text, or another one, without a date. */
export function dateText(date: Date | null | undefined, otherwise = ''): string {
  return date?.toISOString().slice(0, 10) ?? otherwise;
}

/** A day as the database keeps it. */
export function midnightUtc(day: string): Date {
  return new Date(`${day}T00:00:00Z`);
}

/** What a clock there showed to the minute, as a form's field takes it: yyyy-mm-ddThh:mm. */
export function wallClock(instantMs: number, utcOffsetMin: number): string {
  return new Date(instantMs + utcOffsetMin * 60_000).toISOString().slice(0, 16);
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/**
 * A day that nobody reads the wrong way round: "26 Nov 2026", on one line; of a month, "Nov 2026". What is neither stays
 * as it is.
 */
export function dayWords(day: string): string {
  const [, year, month, date] = /^(\d{4})-(\d{2})(?:-(\d{2}))?$/.exec(day) ?? [];
  const name = MONTHS[Number(month) - 1];
  if (name === undefined) return day;
  return `${date === undefined ? '' : `${Number(date)}\u00A0`}${name}\u00A0${year}`;
}

/** Before a day or an instant "on", before a month "in". */
export function prepositionOf(at: string): string {
  return isMonth(at) ? 'in' : 'on';
}

/** yyyy-mm: all that is told of some days. */
export function isMonth(text: string): boolean {
  return /^\d{4}-\d{2}$/.test(text);
}

/** An instant by the clock of a place, or the month that is all that is told of it. */
export function momentWords(at: string, utcOffsetMin: number): string {
  return isMonth(at) ? dayWords(at) : wallClockWords(Date.parse(at), utcOffsetMin);
}

/** A clock in words: "26 Nov 2026, 18:24". */
export function wallClockWords(instantMs: number, utcOffsetMin: number): string {
  const [day = '', time = ''] = wallClock(instantMs, utcOffsetMin).split('T');
  return `${dayWords(day)}, ${time}`;
}

/** The day of a time as it is typed or shown by a clock, yyyy-mm-ddThh:mm. */
export function dayOfClock(local: string): string {
  return local.slice(0, 10);
}
