import { createHash } from 'node:crypto';
import { FORGOTTEN_MS, type TriedThing, waitsS } from '@/lib/access/delays';
import { clearTries, forgetTries, takeBackTry, takeTry } from '@/lib/store/tryCounts';
import type { Registry } from '../registry';

/** What is tried: a kind of thing, and which one. */
export interface Tried {
  thing: TriedThing;
  which: string;
}

/** By the hash: whoever reads the table finds neither addresses of people nor of their networks. */
function keyOf({ thing, which }: Tried): string {
  return createHash('sha256').update(`${thing}\n${which}`).digest('base64url');
}

/**
 * Counts a try of each of these before it is known whether it fails, so that tries sent all at once cannot slip past.
 * Gives back for how many seconds it has to wait; then none of them is counted.
 */
export async function beginTry(registry: Registry, tried: readonly Tried[]): Promise<number | undefined> {
  const at = registry.now();
  const forgottenFrom = new Date(at.getTime() - FORGOTTEN_MS);
  for (const [index, one] of tried.entries()) {
    const key = keyOf(one);
    const { until } = await takeTry(registry.db, { key, at, waitsS: waitsS(one.thing), forgottenFrom });
    if (until === undefined) continue;
    await endTry(registry, tried.slice(0, index));
    return Math.max(1, Math.ceil((until.getTime() - at.getTime()) / 1000));
  }
  return undefined;
}

/** Counts a use of an allowance: which one it is by number, or for how many seconds it has to wait where that is used up. */
export async function takeUse(
  registry: Registry,
  which: string,
  waits: readonly number[],
): Promise<{ uses: number; waitS?: undefined } | { waitS: number }> {
  const at = registry.now();
  const key = createHash('sha256').update(`use\n${which}`).digest('base64url');
  const forgottenFrom = new Date(at.getTime() - FORGOTTEN_MS);
  const taken = await takeTry(registry.db, { key, at, waitsS: waits, forgottenFrom });
  if (taken.until === undefined) return { uses: taken.tries };
  return { waitS: Math.max(1, Math.ceil((taken.until.getTime() - at.getTime()) / 1000)) };
}

/** It failed: it stays counted, and what is long over goes. */
export async function failTry(registry: Registry): Promise<void> {
  await forgetTries(registry.db, new Date(registry.now().getTime() - FORGOTTEN_MS));
}

/** It was none that failed; earlier ones stay counted. */
export async function endTry(registry: Registry, tried: readonly Tried[]): Promise<void> {
  for (const one of tried) await takeBackTry(registry.db, keyOf(one), registry.now());
}

/** It was right: those before were mistakes of the same person. */
export async function forgiveTries(registry: Registry, tried: readonly Tried[]): Promise<void> {
  await clearTries(registry.db, tried.map(keyOf));
}
