import type { Preferences } from '@/lib/units/display';
import { preferencesFrom } from '@/lib/units/displaySchema';

/** The one cookie of a reader's choices. Scripts may read it (public/theme.js does): it says nothing of a person. */
export const DISPLAY_COOKIE = 'evenloop-display';
/** Ours has about 200 characters; what is much longer is not ours. */
const LONGEST = 600;

/** What the cookie keeps; a choice that is not on offer counts as none. */
export function preferencesOfText(text: string | undefined): Preferences | undefined {
  if (text === undefined || text.length > LONGEST) return undefined;
  return preferencesFrom(Object.fromEntries(new URLSearchParams(text)));
}

/** The same in a browser, for a page that a phone keeps and that no server makes for its reader. */
export function displayOfBrowser(cookies: string): Preferences {
  const [, text] = new RegExp(`(?:^|; )${DISPLAY_COOKIE}=([^;]*)`).exec(cookies) ?? [];
  return preferencesOfText(text === undefined ? undefined : decodeURIComponent(text)) ?? preferencesFrom({});
}
