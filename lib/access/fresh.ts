import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';

/** For how long a proof of who one is covers what is grave. Common practice, no source: longer than one piece of work. */
export const FRESH_MS = 20 * 60 * 1000;

/** Whether the actor entered password or code, or came from the provider, a short while ago. */
export function isFresh({ provedAt }: Pick<Actor, 'provedAt'>, now: Date): boolean {
  // Who has no sign-in is a command on this machine.
  return provedAt === undefined || now.getTime() - provedAt.getTime() <= FRESH_MS;
}

/**
 * Throws where the proof is old: an unlocked screen or a stolen cookie is not enough for roles, the protocol, the method,
 * bulk acts, or what an account is protected by.
 */
export function requireFresh(actor: Actor, now: Date): void {
  if (isFresh(actor, now)) return;
  throw new NotAllowed(
    'Confirm first that it is you: the link is at the top of this page, and on your account page.',
    true,
    { accountId: actor.accountId, act: 'actWithoutFreshProof' },
  );
}
