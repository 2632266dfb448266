import { dayWords, momentWords } from '@/lib/run/localDate';
import { offsetLabel } from '@/lib/run/utcOffset';

/** A day by its name, yyyy-mm-dd, in words that nobody reads the wrong way round; or a month, yyyy-mm. */
export function Day({ of }: { of: string }) {
  return of === '' ? (
    '–'
  ) : (
    <time dateTime={of} className="num whitespace-nowrap">
      {dayWords(of)}
    </time>
  );
}

/** An instant by the one clock of its page, which the page states once (ZoneNote); a month where no more is told. */
export function Minute({ at, utcOffsetMin = 0 }: { at: string; utcOffsetMin?: number }) {
  return (
    <time dateTime={at} className="num">
      {momentWords(at, utcOffsetMin)}
    </time>
  );
}

/** The same to the second, by UTC: where the order of what happened within a minute matters. */
export function Second({ at }: { at: string }) {
  return (
    <time dateTime={at} className="num">
      {momentWords(at, 0)}
      {at.slice(16, 19)}
    </time>
  );
}

/** The zone of all times of a page. */
export function ZoneNote({ utcOffsetMin = 0, where }: { utcOffsetMin?: number; where?: string }) {
  return (
    <span>
      Times are {offsetLabel(utcOffsetMin)}
      {where === undefined ? '' : `, ${where}`}
    </span>
  );
}
