import { NotAllowed } from '@/lib/run/errors';
import { dateText, dayWords } from '@/lib/run/localDate';
import type { Actor, OpenSuspension } from '@/lib/run/roles';

/** Within so many days a suspension can be appealed against. Own judgement: a holiday fits in. */
const APPEAL_DAYS = 30;
const DAY_MS = 24 * 60 * 60 * 1000;

/** The last instant at which an appeal is taken. */
export function appealUntil({ placedAt }: Pick<OpenSuspension, 'placedAt'>): Date {
  return new Date(placedAt.getTime() + APPEAL_DAYS * DAY_MS);
}

/** What one is told who is suspended: since when, why, what stays, and how to appeal and by when. */
export function suspendedWords(suspension: OpenSuspension): string {
  const { reason, placedAt, isAppealed } = suspension;
  const last = dayWords(dateText(appealUntil(suspension)));
  const reasonWords = /[.!?…]$/.test(reason) ? reason : `${reason}.`;
  const next = isAppealed
    ? 'Your appeal is with the stewards.'
    : `Appeal on your account page by ${last} if you see it otherwise.`;
  return `A steward suspended your account on ${dayWords(dateText(placedAt))}: ${reasonWords} You can read, ask and take your data out, but neither record nor review. ${next}`;
}

/** Throws for one who is suspended: for what needs no role, but is no reading either. */
export function refuseSuspended({ accountId, suspension }: Actor, act: string): void {
  if (suspension !== undefined) throw new NotAllowed(suspendedWords(suspension), true, { accountId, act });
}
