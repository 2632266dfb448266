/**
 * Reads a date and time in the form of XML Schema dateTime (XSD 1.1 part 2, 3.3.7; a profile of ISO 8601), quickly and
 * strictly: a trace has tens of thousands of them, and a date that does not exist must not roll over to another.
 */
const form =
  /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,9}))?)?\s*(Z|z|[+-]\d\d(?::?\d\d)?)?$/;

export interface Instant {
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly timeMs: number;
  /** False where the text names no zone and UTC was taken. */
  readonly hasZone: boolean;
}

/** Null when the text is not a real date and time. */
export function parseInstant(text: string): Instant | null {
  const match = form.exec(text.trim());
  if (match === null) return null;
  const [year, month, day, hour, minute] = match.slice(1, 6).map(Number) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const second = Number(match[6] ?? 0);
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  if (hour > 23 || minute > 59 || second > 60) return null;
  const fractionMs = match[7] === undefined ? 0 : Math.round(Number(`0.${match[7]}`) * 1000);
  // A leap second is given the instant that follows it, as clocks that do not know it do.
  const local = Date.UTC(year, month - 1, day, hour, minute, second) + fractionMs;
  const zone = match[8];
  if (zone === undefined) return { timeMs: local, hasZone: false };
  if (zone === 'Z' || zone === 'z') return { timeMs: local, hasZone: true };
  const digits = zone.slice(1).replace(':', '').padEnd(4, '0');
  const offsetMinutes = Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2));
  if (offsetMinutes > 14 * 60 || Number(digits.slice(2)) > 59) return null;
  return { timeMs: local - (zone[0] === '-' ? -1 : 1) * offsetMinutes * 60_000, hasZone: true };
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}
