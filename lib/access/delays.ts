/** The longest that anybody is kept waiting. */
export const LONGEST_WAIT_S = 240;

/** After so long without a try the count begins anew. */
export const FORGOTTEN_MS = 60 * 60 * 1000;

/**
 * How many tries in a row cost no wait, by what is tried. Common practice, no source: people mistype a few times, a
 * household or an office shares one address, and nobody opens ten accounts in an hour.
 */
export const FREE_TRIES = {
  /** Sign-ins with one e-mail address, by whoever is not known there. */
  account: 4,
  /** Sign-ins from a browser that has signed in with that e-mail address before. */
  device: 4,
  /** Sign-ins from one network address. */
  address: 30,
  /** Current passwords entered to change it. */
  password: 4,
  /** Codes of the second factor entered to take it off. */
  code: 4,
  /** Steward codes entered by one account, or at sign-up from one network address. */
  stewardCode: 5,
  /** Letters asked for by one account, or for one address. */
  letter: 4,
  /** Accounts opened from one network address. */
  signUp: 10,
} as const;

export type TriedThing = keyof typeof FREE_TRIES;

/**
 * Seconds until the next try is taken after so many in a row: none while they are free, then 1, 2, 4 and so on. What
 * waits never grows by what is refused meanwhile, so strangers cannot hold an account closed for longer than this.
 */
export function waitAfterS(tries: number, free: number): number {
  return tries <= free ? 0 : Math.min(LONGEST_WAIT_S, 2 ** (tries - free - 1));
}

/** The waits after the first try, the second and so on, up to where they stay the longest. */
export function waitsS(thing: TriedThing): number[] {
  const free = FREE_TRIES[thing];
  const growing = Math.ceil(Math.log2(LONGEST_WAIT_S)) + 1;
  return Array.from({ length: free + growing }, (_, i) => waitAfterS(i + 1, free));
}
