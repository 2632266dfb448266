import { createHash, randomBytes } from 'node:crypto';
import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { deviceWords } from '@/lib/access/deviceWords';
import { isOver, LONGEST_MS, MOST_OPEN } from '@/lib/access/signInLimits';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { raiseSessionEpoch } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { endAllSignIns, endSignIns, forgetSignIns, insertSignIn, openSignInsOf } from '@/lib/store/signIns';
import type { Registry } from '../registry';
import type { SignedIn } from './currentActor';

/** An id has 256 bits of chance: a plain digest is enough. */
export function keyOfSignIn(id: string): string {
  return createHash('sha256').update(id).digest('base64url');
}

/**
 * Keeps a sign-in whose password or provider was just checked (which the log tells already) and gives back the id for
 * its token. Clears away the account's old ones, and ends those that are unused for longest where there are too many.
 */
export async function beginSignIn(
  registry: Registry,
  { accountId, userAgent }: { accountId: string; userAgent: string | null },
): Promise<string> {
  const id = randomBytes(32).toString('base64url');
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    await forgetSignIns(tx, accountId, new Date(at.getTime() - LONGEST_MS));
    await insertSignIn(tx, { key: keyOfSignIn(id), accountId, device: deviceWords(userAgent), at });
    const beyond = await openSignInsOf(tx, accountId, MOST_OPEN, MOST_OPEN);
    const keys = beyond.map(({ key }) => key);
    if (keys.length > 0) await endSignIns(tx, accountId, keys, at);
  });
  return id;
}

export interface SignInView {
  key: string;
  device: string;
  createdAt: string;
  lastSeenAt: string;
  isThisOne: boolean;
}

/** Where the actor is signed in, the last seen first. */
export async function readSignIns(registry: Registry, actor: SignedIn | undefined): Promise<SignInView[]> {
  requireSignedIn(actor);
  const now = registry.now();
  const rows = await openSignInsOf(registry.db, actor.accountId, MOST_OPEN);
  return rows
    .filter((row) => !isOver({ ...row, role: actor.role }, now))
    .map(({ key, device, createdAt, lastSeenAt }) => ({
      key,
      device,
      createdAt: createdAt.toISOString(),
      lastSeenAt: lastSeenAt.toISOString(),
      isThisOne: key === actor.signInKey,
    }));
}

const endSignInSchema = z.object({ key: z.string().max(64) });

/** Ends one of the actor's own sign-ins. */
export async function endSignIn(
  registry: Registry,
  actor: SignedIn | undefined,
  input: unknown,
): Promise<{ wasThisOne: boolean }> {
  requireSignedIn(actor);
  const { key } = parseInput(endSignInSchema, input);
  await endOne(registry, actor.accountId, key, 'account.endSignIn', () => {
    throw new NotFound('This place is signed out already.');
  });
  return { wasThisOne: key === actor.signInKey };
}

/** Signing out ends the sign-in on the server as well: a copy of the token opens nothing any more. */
export async function signOut(
  registry: Registry,
  token: { accountId?: string | undefined; signInId?: string | undefined },
): Promise<void> {
  if (token.accountId === undefined || token.signInId === undefined) return;
  await endOne(registry, token.accountId, keyOfSignIn(token.signInId), 'account.signOut', () => undefined);
}

async function endOne(
  registry: Registry,
  accountId: string,
  key: string,
  action: 'account.endSignIn' | 'account.signOut',
  whereEnded: () => void,
): Promise<void> {
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    if ((await endSignIns(tx, accountId, [key], at)) === 0) return whereEnded();
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action,
      subjectKind: 'account',
      subjectId: accountId,
    });
  });
}

/** In the transaction of what makes it necessary: a new password, a new role. The epoch closes what races with it. */
export async function endEverySignIn(tx: Queryable, accountId: string, at: Date): Promise<void> {
  await raiseSessionEpoch(tx, accountId);
  await endAllSignIns(tx, accountId, at);
}
