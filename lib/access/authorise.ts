import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { WorldKey } from '@/lib/run/world';
import { type Action, may, refusalOf } from './permissions';

const SIGN_IN = 'Sign in first.';

/** Throws for a visitor: what anyone signed in may do with an account of their own. */
export function requireSignedIn(actor: Actor | undefined): asserts actor is Actor {
  if (actor === undefined) throw new NotAllowed(SIGN_IN, false);
}

/** Throws unless the actor may; every use case that writes begins with it. */
export function authorise(
  actor: Actor | undefined,
  action: Action,
  ownerId?: string,
  world?: WorldKey,
): asserts actor is Actor {
  if (!may(actor, action, ownerId, world)) {
    throw new NotAllowed(actor === undefined ? SIGN_IN : refusalOf(action), actor !== undefined, {
      accountId: actor?.accountId,
      act: action,
    });
  }
}
