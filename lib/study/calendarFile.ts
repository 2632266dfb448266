/** One whole day of a study, for a calendar. */
export interface CalendarDay {
  /** Names the event for good, so that a file that is taken in again replaces it. */
  uid: string;
  /** YYYY-MM-DD */
  day: string;
  title: string;
  text: string;
  url: string;
}

/**
 * An iCalendar file (RFC 5545) of whole-day events: CRLF between lines, lines folded after 75 octets (3.1), texts with
 * backslash, semicolon, comma and line feed escaped (3.3.11), the end of a day the day after (3.6.1).
 *
 * @param stampedAt when the plan was fixed, as DTSTAMP has to say
 */
export function calendarFile(name: string, days: readonly CalendarDay[], stampedAt: Date): string {
  const stamp = `${stampedAt.toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`;
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Evenloop//Studies//EN',
    `NAME:${escaped(name)}`,
    ...days.flatMap(({ uid, day, title, text, url }) => [
      'BEGIN:VEVENT',
      `UID:${uid}`,
      `DTSTAMP:${stamp}`,
      `DTSTART;VALUE=DATE:${day.replaceAll('-', '')}`,
      `DTEND;VALUE=DATE:${dayAfter(day).replaceAll('-', '')}`,
      'TRANSP:TRANSPARENT',
      `SUMMARY:${escaped(title)}`,
      `DESCRIPTION:${escaped(text)}`,
      `URL:${url}`,
      'END:VEVENT',
    ]),
    'END:VCALENDAR',
  ];
  return `${lines.flatMap(folded).join('\r\n')}\r\n`;
}

function escaped(text: string): string {
  return text
    .replaceAll('\\', '\\\\')
    .replaceAll(';', '\\;')
    .replaceAll(',', '\\,')
    .replace(/\r\n|\r|\n/g, '\\n');
}

function dayAfter(day: string): string {
  return new Date(new Date(`${day}T00:00:00Z`).getTime() + 86_400_000).toISOString().slice(0, 10);
}

const MOST_OCTETS = 75;
const octets = new TextEncoder();

/** A line in pieces that a folded one consists of; no character is cut in two. */
function folded(line: string): string[] {
  const pieces: string[] = [];
  let piece = '';
  let length = 0;
  for (const character of line) {
    const own = octets.encode(character).length;
    if (length + own > MOST_OCTETS) {
      pieces.push(piece);
      piece = ' ';
      length = 1;
    }
    piece += character;
    length += own;
  }
  return [...pieces, piece];
}
