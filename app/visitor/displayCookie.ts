import { cookies } from 'next/headers';
import type { Preferences } from '@/lib/units/display';
import { DISPLAY_COOKIE, preferencesOfText } from './displayCookieText';

/** Browsers keep a cookie for 400 days at most. */
const MAX_AGE_S = 400 * 24 * 60 * 60;

/** What this browser keeps; a choice that is not on offer counts as none. */
export async function displayOfCookie(): Promise<Preferences | undefined> {
  return preferencesOfText((await cookies()).get(DISPLAY_COOKIE)?.value);
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
