/** Uses are counted by stretches of this length. */
export const USE_WINDOW_MS = 10 * 60 * 1000;

/**
 * How often an account may do in ten minutes what costs the server something. Own judgement: a run has some ten photos
 * and one recording, a phone sends a day's runs at once, and a form saves itself every few seconds.
 */
export const ALLOWANCE = {
  /** Photos, recordings and spreadsheets. */
  upload: 200,
  /** Writes by script: drafts that save themselves, runs of the field card. */
  api: 1_500,
} as const;

export type UsedThing = keyof typeof ALLOWANCE;

/** The waits after the first use, the second and so on: none up to the allowance, then what is left of the stretch. */
export function allowanceWaitsS(thing: UsedThing, leftS: number): number[] {
  return [...Array.from({ length: ALLOWANCE[thing] - 1 }, () => 0), Math.max(1, leftS)];
}
