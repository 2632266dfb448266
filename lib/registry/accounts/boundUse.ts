import { ALLOWANCE, allowanceWaitsS, USE_WINDOW_MS, type UsedThing } from '@/lib/access/allowances';
import { requireSignedIn } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import type { Registry } from '../registry';
import { takeUse } from './boundTries';
import { tooSoon } from './tooSoon';

/**
 * Counts a use of what costs the server something, by account: more than its allowance in a stretch of ten minutes has
 * to wait for the next one (429). Counted before the work, so that requests sent all at once do not slip past. Gives
 * what is left of it, and for how long.
 */
export async function boundUse(
  registry: Registry,
  actor: Actor | undefined,
  thing: UsedThing,
): Promise<{ left: number; resetS: number }> {
  requireSignedIn(actor);
  const stretch = Math.floor(registry.now().getTime() / USE_WINDOW_MS);
  const endsAt = (stretch + 1) * USE_WINDOW_MS;
  const leftS = Math.ceil((endsAt - registry.now().getTime()) / 1000);
  const used = await takeUse(
    registry,
    `${thing} ${actor.accountId} ${stretch}`,
    allowanceWaitsS(thing, leftS),
  );
  if (used.waitS === undefined) return { left: ALLOWANCE[thing] - used.uses, resetS: leftS };
  throw await tooSoon(registry, {
    thing,
    accountId: actor.accountId,
    path: 'body',
    what: thing === 'upload' ? 'Very many files were just sent.' : 'Very many requests were just sent.',
    why: 'One account must not take up the server from the others.',
    waitS: used.waitS,
  });
}
