import { atLeast, type Role } from '@/lib/run/roles';

const HOUR_MS = 60 * 60 * 1000;
const DAY_MS = 24 * HOUR_MS;

/** However much it is used. Also how long the browser keeps the token. */
export const LONGEST_MS = 90 * DAY_MS;

/** How often "last seen" is written at most; an idle time is known to within this. */
export const SEEN_AGAIN_MS = 5 * 60 * 1000;

/** Kept open for one account; the one that was unused for longest goes first. */
export const MOST_OPEN = 50;

/**
 * After how long without use a sign-in is over. Common practice, no source: a month is a tester's pause between two
 * drives; who decides over others' runs signs in once a working day.
 */
export function idleLimitMs(role: Role): number {
  return atLeast(role, 'reviewer') ? 12 * HOUR_MS : 30 * DAY_MS;
}

/** Whether it is over by its own age or for want of use, by the role of now. */
export function isOver(signIn: { role: Role; createdAt: Date; lastSeenAt: Date }, now: Date): boolean {
  const idleMs = now.getTime() - signIn.lastSeenAt.getTime();
  const ageMs = now.getTime() - signIn.createdAt.getTime();
  return idleMs > idleLimitMs(signIn.role) || ageMs > LONGEST_MS;
}

/** The idle limit as the account page says it. */
export function idleLimitWords(role: Role): string {
  const hours = idleLimitMs(role) / HOUR_MS;
  return hours < 48 ? `${hours} hours` : `${hours / 24} days`;
}
