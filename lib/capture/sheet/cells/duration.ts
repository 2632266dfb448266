/** Durations as notes hold them. A form takes minutes, or h:mm and h:mm:ss. */

const CLOCK = /^(\d{1,3}):([0-5]?\d)(?::([0-5]\d))?$/;
const SPELLED =
  /^(?:(\d{1,2})\s*h(?:ours?|rs?)?)?\s*(?:(\d{1,3})\s*m(?:in(?:ute)?s?)?)?\s*(?:(\d{1,2})\s*s(?:ec(?:ond)?s?)?)?$/i;
const LETTER_H = /^(\d{1,2})\s*h\s*([0-5]\d)$/i;

/**
 * Hours above this are minutes: nobody drives a loop for half a day, and a trip computer that shows 40:36 has counted
 * minutes and seconds (common practice, no source).
 */
const MOST_HOURS = 12;

/** The text as h:mm or h:mm:ss; undefined where it is none of the ways, a plain number among them. */
export function durationIn(text: string): string | undefined {
  const squeezed = text.trim().replace(/\s+/g, ' ');
  const clock = CLOCK.exec(squeezed);
  if (clock !== null) {
    const [, first = '', second = '', third] = clock;
    if (third === undefined && Number(first) > MOST_HOURS)
      return ofSeconds(Number(first) * 60 + Number(second));
    return third === undefined ? `${first}:${two(second)}` : `${first}:${two(second)}:${third}`;
  }
  const letter = LETTER_H.exec(squeezed);
  if (letter !== null) return `${letter[1]}:${letter[2]}`;
  const spelled = SPELLED.exec(squeezed);
  if (spelled === null || squeezed === '') return undefined;
  const [, hours, minutes, seconds] = spelled;
  // "58 min" alone is a number with its unit, whose digits say how finely it was read.
  if (hours === undefined && seconds === undefined) return undefined;
  const total = Number(hours ?? 0) * 3600 + Number(minutes ?? 0) * 60 + Number(seconds ?? 0);
  return seconds === undefined ? ofMinutes(total / 60) : ofSeconds(total);
}

const two = (digits: string | number): string => String(digits).padStart(2, '0');

function ofMinutes(minutes: number): string {
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}`;
}

function ofSeconds(seconds: number): string {
  return `${ofMinutes(Math.floor(seconds / 60))}:${two(seconds % 60)}`;
}
