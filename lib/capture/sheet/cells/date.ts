/** Dates and times of day as notes hold them, to those of ISO 8601. */

/** Which comes first of day, month and year where a date is written in numbers alone. */
export type DateOrder = 'dmy' | 'mdy';

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const ISO = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)/;
const NUMBERS = /^(\d{1,2})[-/.]\s?(\d{1,2})[-/.]\s?(\d{4}|\d{2})(?!\d)/;
const DAY_MONTH =
  /^(?:[a-z]{3,9},?\s+)?(\d{1,2})(?:st|nd|rd|th)?[.\s-]+([a-z]{3,9})\.?,?[\s-]+(\d{4}|\d{2})(?!\d)/i;
const MONTH_DAY = /^(?:[a-z]{3,9},?\s+)?([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4}|\d{2})(?!\d)/i;
const TIME = /^(\d{1,2})[:.h](\d{2})(?::(\d{2}))?\s*(a\.?m\.?|p\.?m\.?)?(?:\s*h)?$/i;
const HOUR = /^(\d{1,2})\s*(a\.?m\.?|p\.?m\.?)$/i;

/** What a cell's numbers alone tell about the order: a first number above 12 is a day. Undefined where they do not. */
export function orderTold(text: string): DateOrder | undefined {
  const match = NUMBERS.exec(text.trim());
  if (match === null) return undefined;
  const [first, second] = [Number(match[1]), Number(match[2])];
  if (first > 12 && second <= 12) return 'dmy';
  return second > 12 && first <= 12 ? 'mdy' : undefined;
}

/** Whether day and month of the text could be either way round; 5/5/2025 is the same day both ways. */
export function isOrderOpen(text: string): boolean {
  const match = NUMBERS.exec(text.trim());
  return match !== null && orderTold(text) === undefined && match[1] !== match[2] && Number(match[1]) <= 12;
}

/** The date in front of a text, ISO 8601, and what follows it; undefined where there is none. */
export function dateIn(
  text: string,
  order: DateOrder | undefined,
): { date: string; rest: string } | undefined {
  const trimmed = text.trim();
  const iso = ISO.exec(trimmed);
  if (iso !== null) return built(trimmed, iso[0], iso[1], iso[2], iso[3]);
  const numbers = NUMBERS.exec(trimmed);
  if (numbers !== null) {
    const [whole, first, second, year] = numbers;
    const told = orderTold(trimmed) ?? order;
    if (told === undefined && first !== second) return undefined;
    return told === 'mdy'
      ? built(trimmed, whole, year, first, second)
      : built(trimmed, whole, year, second, first);
  }
  const dayFirst = DAY_MONTH.exec(trimmed);
  if (dayFirst !== null)
    return built(trimmed, dayFirst[0], dayFirst[3], monthNumber(dayFirst[2]), dayFirst[1]);
  const monthFirst = MONTH_DAY.exec(trimmed);
  if (monthFirst !== null)
    return built(trimmed, monthFirst[0], monthFirst[3], monthNumber(monthFirst[1]), monthFirst[2]);
  return undefined;
}

/** A time of day, 24 hours and colons: "9:10 AM" is 09:10. Undefined where the text is none. */
export function timeIn(text: string): string | undefined {
  const trimmed = text.trim();
  const match = TIME.exec(trimmed);
  const hour = HOUR.exec(trimmed);
  if (match === null && hour === null) return undefined;
  const half = (match?.[4] ?? hour?.[2])?.toLowerCase().replaceAll('.', '');
  const written = Number(match?.[1] ?? hour?.[1]);
  const minute = Number(match?.[2] ?? 0);
  if (half !== undefined && (written < 1 || written > 12)) return undefined;
  const hours = half === undefined ? written : (written % 12) + (half === 'pm' ? 12 : 0);
  if (hours > 23 || minute > 59 || Number(match?.[3] ?? 0) > 59) return undefined;
  const seconds = match?.[3] === undefined ? '' : `:${match[3]}`;
  return `${two(hours)}:${two(minute)}${seconds}`;
}

/** Date and time of one cell, as a form takes them. */
export function dateTimeIn(text: string, order: DateOrder | undefined): string | undefined {
  const found = dateIn(text, order);
  if (found === undefined) return undefined;
  const time = timeIn(found.rest.replace(/^[T,\s]+/i, ''));
  return time === undefined ? undefined : `${found.date} ${time}`;
}

const two = (value: string | number | undefined): string => String(value ?? '').padStart(2, '0');

function monthNumber(word: string | undefined): string {
  const lower = (word ?? '').toLowerCase();
  const at = lower.length < 3 ? -1 : MONTHS.indexOf(lower.slice(0, 3));
  return at < 0 ? '' : String(at + 1);
}

function built(text: string, taken: string, year = '', month = '', day = '') {
  if (month === '') return undefined;
  // Notes of runs are of this century.
  const full = year.length === 2 ? `20${year}` : year;
  return { date: `${full}-${two(month)}-${two(day)}`, rest: text.slice(taken.length).trim() };
}
