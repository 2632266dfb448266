import type { Letter } from './letter';
import { withSecret } from './withSecret';

/** What an account may choose of its notices to get by letter. */
export const NOTICE_MAIL = ['none', 'each', 'weekly'] as const;
export type NoticeMail = (typeof NOTICE_MAIL)[number];

/** So many are read in one letter; the page has all. Own judgement. */
export const MOST_IN_LETTER = 20;

const DAY_MS = 24 * 60 * 60 * 1000;
const WEEK_MS = 7 * DAY_MS;
/** A Monday, 06:00 UTC: what weekly letters are counted from. */
const FIRST_CUT_MS = Date.UTC(2024, 0, 1, 6);
/** Older than that a notice goes by no letter of its own: it was not sent in time, and is not news any more. */
const STALE_MS = WEEK_MS;

/** When the weekly letter was last due: the latest Monday, 06:00 UTC, that is not after a time. */
export function weeklyCut(now: Date): Date {
  const weeks = Math.floor((now.getTime() - FIRST_CUT_MS) / WEEK_MS);
  return new Date(FIRST_CUT_MS + weeks * WEEK_MS);
}

/** When the next one is due. */
export function nextWeekly(now: Date): Date {
  return new Date(weeklyCut(now).getTime() + WEEK_MS);
}

/** Notices from before go by no letter of their own. */
export function eachAfter(now: Date): Date {
  return new Date(now.getTime() - STALE_MS);
}

/**
 * The notices that a letter of now is to have, made after `after` and up to `until`; undefined where none is due. `from`
 * is when letters were chosen, or where the weekly one before ended.
 */
export function dueSpan(choice: NoticeMail, from: Date, now: Date): { after: Date; until: Date } | undefined {
  if (choice === 'none') return undefined;
  if (choice === 'each')
    return { after: new Date(Math.max(from.getTime(), eachAfter(now).getTime())), until: now };
  const until = weeklyCut(now);
  return from < until ? { after: from, until } : undefined;
}

export interface NoticeLetter {
  accountId: string;
  to: string;
  site: string;
  choice: Exclude<NoticeMail, 'none'>;
  /** The latest first, no more than `MOST_IN_LETTER`. */
  notices: readonly { text: string; href: string }[];
  /** With those that are not in the letter. */
  total: number;
  /** Days in words, for the weekly one. */
  days: { first: string; last: string };
  secret: string;
}

/** What was told in the registry, as a letter with a link that ends such letters. */
export function letterOfNotices(of: NoticeLetter): Letter {
  const { accountId, to, site, choice, notices, total, days, secret } = of;
  const { host } = new URL(site);
  const count = total === 1 ? 'one notice' : `${total} notices`;
  const opening =
    choice === 'weekly'
      ? `What happened from ${days.first} to ${days.last} that you have not read yet, the latest first:`
      : total === 1
        ? 'This happened:'
        : 'This happened, the latest first:';
  const items = notices.map(({ text, href }) => `- ${oneLine(text)}\n  ${new URL(href, site).href}`);
  const more = total - notices.length;
  if (more > 0)
    items.push(`And ${more === 1 ? 'one more' : `${more} more`}:\n  ${new URL('/notifications', site).href}`);
  const why =
    choice === 'weekly' ? 'one letter a week about your notices' : 'your notices by letter as they come';
  return {
    to,
    subject: choice === 'weekly' ? `Your week at ${host}: ${count}` : `${capital(count)} from ${host}`,
    text: `${opening}

${items.join('\n\n')}

You chose ${why} at ${site}
Choose otherwise on your account page: ${new URL('/account', site).href}#letters
End these letters with one button, without signing in:
${withSecret(site, '/unsubscribe', secret)}
`,
    unsubscribe: withSecret(site, '/api/unsubscribe', secret),
    accountId,
  };
}

/** What people wrote stays in its line: nobody adds lines to a letter of the registry. */
function oneLine(text: string): string {
  return text.replace(/[\s\p{Cc}\u2028\u2029]+/gu, ' ').trim();
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
