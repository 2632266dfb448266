import { dateText, midnightUtc } from './localDate';

/** What readers see of when a tester's runs were driven: the day, or no more than its month. */
export const PUBLISHED_DAYS = ['day', 'month'] as const;
export type PublishedDays = (typeof PUBLISHED_DAYS)[number];

/** A day as rows of published runs keep it, so that their order says no more than they do. */
export interface PublishedDay {
  publishedDay: Date;
  /** Whether it stands for its whole month, being the first of it. */
  monthOnly: boolean;
}

export function publishedDay(day: Date, chosen: PublishedDays): PublishedDay {
  return chosen === 'day'
    ? { publishedDay: day, monthOnly: false }
    : { publishedDay: firstOfMonth(day), monthOnly: true };
}

export function firstOfMonth(day: Date): Date {
  return midnightUtc(`${monthOf(day)}-01`);
}

/** yyyy-mm, of a day or of an instant by UTC. */
export function monthOf(at: Date): string {
  return monthOfText(dateText(at));
}

/** The same of what is written down already, yyyy-mm-dd or an instant (ISO 8601). */
export function monthOfText(at: string): string {
  return at.slice(0, 'yyyy-mm'.length);
}

/** A published day by its name: yyyy-mm-dd, or yyyy-mm where it stands for its month; the empty text without one. */
export function publishedText(day: Date | null | undefined, isMonthOnly: boolean): string {
  return isMonthOnly ? monthOfText(dateText(day)) : dateText(day);
}

/** What tells apart the days behind a number of them: one that is kept back is nobody else's. */
export function countedDay(run: { day: string; monthOnly: boolean; sessionId: string }): string {
  return run.monthOnly ? run.sessionId : run.day;
}

/**
 * Rules of the protocol whose numbers are the time between driving and sending in: by that and the month of each the day
 * could be told.
 */
export const TELLING_WHEN: readonly string[] = ['date-not-ahead'];
