import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { WorldKey } from '@/lib/run/world';
import { type Action, may, refusalOf } from './permissions';

/** Throws unless the actor may; every use case that writes begins with it. */
export function authorise(
  actor: Actor | undefined,
  action: Action,
  ownerId?: string,
  world?: WorldKey,
): asserts actor is Actor {
  if (!may(actor, action, ownerId, world)) {
    throw new NotAllowed(actor === undefined ? 'Sign in first.' : refusalOf(action), actor !== undefined, {
      accountId: actor?.accountId,
      act: action,
    });
  }
}
