import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { type Action, may, refusalOf } from './permissions';

/** Throws unless the actor may; every use case that writes begins with it. */
export function authorise(
  actor: Actor | undefined,
  action: Action,
  ownerId?: string,
  isDemo?: boolean,
): asserts actor is Actor {
  if (!may(actor, action, ownerId, isDemo)) {
    throw new NotAllowed(actor === undefined ? 'Sign in first.' : refusalOf(action), actor !== undefined);
  }
}
