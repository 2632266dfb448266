import { cookies } from 'next/headers';
import type { Preferences } from '@/lib/units/display';
import { preferencesFrom } from '@/lib/units/displaySchema';

/** The one cookie of a reader's choices. Scripts may read it (public/theme.js does): it says nothing of a person. */
export const DISPLAY_COOKIE = 'evenloop-display';
/** Ours has about 200 characters; what is much longer is not ours. */
const LONGEST = 600;
/** Browsers keep a cookie for 400 days at most. */
const MAX_AGE_S = 400 * 24 * 60 * 60;

/** What this browser keeps; a choice that is not on offer counts as none. */
export async function displayOfCookie(): Promise<Preferences | undefined> {
  const text = (await cookies()).get(DISPLAY_COOKIE)?.value;
  if (text === undefined || text.length > LONGEST) return undefined;
  return preferencesFrom(Object.fromEntries(new URLSearchParams(text)));
}

/** In an action or a route handler only: a page cannot set cookies. */
export async function keepInCookie(preferences: Preferences): Promise<void> {
  (await cookies()).set(DISPLAY_COOKIE, new URLSearchParams(preferences).toString(), {
    maxAge: MAX_AGE_S,
    path: '/',
    sameSite: 'lax',
    secure: process.env.NEXTAUTH_URL?.startsWith('https:') ?? false,
  });
}
