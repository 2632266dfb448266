import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { WorldKey } from '@/lib/run/world';
import { type Action, may, refusalOf } from './permissions';
import { suspendedWords } from './suspension';

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
    throw new NotAllowed(refusalTo(actor, action), actor !== undefined, {
      accountId: actor?.accountId,
      act: action,
    });
  }
}

function refusalTo(actor: Actor | undefined, action: Action): string {
  if (actor === undefined) return SIGN_IN;
  return actor.suspension === undefined ? refusalOf(action) : suspendedWords(actor.suspension);
}
