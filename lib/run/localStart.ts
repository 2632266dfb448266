import type { InputIssue } from './errors';

const LOCAL = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::\d{2})?$/;

/** Clocks of a phone and a server may disagree by a little. */
const CLOCK_SLACK_MS = 10 * 60 * 1000;

export interface LocalStart {
  startedAt: string;
  utcOffsetMin: number;
  localDate: string;
}

/**
 * The start as typed (local wall-clock time, ISO 8601 without offset) with its offset from UTC in minutes
 * (east positive) as an instant, a date at the loop, or issues for the two fields.
 */
export function parseLocalStart(
  text: string,
  offsetText: string,
  now: string,
  issues: InputIssue[],
): LocalStart | undefined {
  const match = LOCAL.exec(text.trim());
  const wallClock = match === null ? Number.NaN : Date.UTC(...dateParts(match));
  if (match === null || !isSameDay(match, wallClock)) {
    issues.push({
      path: 'startedAtLocal',
      what:
        text.trim() === '' ? 'The start time is missing.' : `“${text.slice(0, 30)}” is not a date and time.`,
      why: 'Weather and session are tied to it.',
      fix: 'Enter date and local time of the start.',
    });
    return undefined;
  }
  const offset = Number(offsetText.trim() === '' ? Number.NaN : offsetText);
  if (!Number.isInteger(offset) || Math.abs(offset) > 14 * 60) {
    issues.push({
      path: 'utcOffsetMin',
      what: 'The time zone is missing or wrong.',
      why: 'A local time without its offset from UTC is not an instant.',
      fix: 'Choose the offset that held at the loop on that day.',
    });
    return undefined;
  }
  const instantMs = wallClock - offset * 60_000;
  if (instantMs > Date.parse(now) + CLOCK_SLACK_MS) {
    issues.push({
      path: 'startedAtLocal',
      what: 'The start lies in the future.',
      why: 'Only finished runs can be recorded.',
      fix: 'Check day, month and time zone.',
    });
    return undefined;
  }
  return {
    startedAt: new Date(instantMs).toISOString(),
    utcOffsetMin: offset,
    localDate: `${match[1]}-${match[2]}-${match[3]}`,
  };
}

function dateParts(match: RegExpExecArray): [number, number, number, number, number] {
  return [Number(match[1]), Number(match[2]) - 1, Number(match[3]), Number(match[4]), Number(match[5])];
}

/** `Date.UTC` rolls 31 February over; a rolled date is a typing error. */
function isSameDay(match: RegExpExecArray, instantMs: number): boolean {
  const date = new Date(instantMs);
  return (
    date.getUTCFullYear() >= 2000 &&
    date.getUTCMonth() === Number(match[2]) - 1 &&
    date.getUTCDate() === Number(match[3]) &&
    date.getUTCHours() === Number(match[4])
  );
}
