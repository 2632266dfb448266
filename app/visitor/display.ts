import { cache } from 'react';
import { DEFAULT_PREFERENCES, type Display, type Preferences } from '@/lib/units/display';
import { displayAt } from '@/lib/units/displaySchema';
import { signedIn } from './actor';
import { displayOfCookie } from './displayCookie';

/** What the reader chose: with the account, else in this browser; undefined where nothing was chosen. */
export const chosenDisplay = cache(
  async (): Promise<Preferences | undefined> => (await signedIn())?.preferences ?? (await displayOfCookie()),
);

/** How this reader wants numbers; what the page's address says of units wins, for that page only. */
export async function readerDisplay(
  params: Readonly<Record<string, string | string[] | undefined>> = {},
): Promise<Display> {
  return displayAt((await chosenDisplay()) ?? DEFAULT_PREFERENCES, (name) => {
    const value = Object.hasOwn(params, name) ? params[name] : undefined;
    return Array.isArray(value) ? value[0] : value;
  });
}
