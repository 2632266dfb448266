import { hashOfToken, isTokenText, scopeWords, type TokenScope } from '@/lib/access/personalTokens';
import { SEEN_AGAIN_MS } from '@/lib/access/signInLimits';
import { suspendedWords } from '@/lib/access/suspension';
import { NotAllowed } from '@/lib/run/errors';
import { type Actor, atLeast } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { noteFirstUse, noteLaterUse, type OpenToken, openPersonalToken } from '@/lib/store/personalTokens';
import type { Registry } from '../registry';

/** Why a bearer is turned away, in the words of RFC 6750, 3.1, with a sentence. */
export class BadToken extends NotAllowed {
  constructor(
    message: string,
    readonly code: 'none' | 'invalid_token',
  ) {
    super(message, false, { act: 'useToken' });
  }
}

/** The token is good and may not do this. */
export class LacksScope extends NotAllowed {
  constructor(
    accountId: string,
    readonly scope: TokenScope,
  ) {
    super(
      `This token may not do this: it needs “${scope}” (${scopeWords(scope)}). Make another one on your account's page of tokens.`,
      true,
      { accountId, act: 'useToken' },
    );
  }
}

/**
 * Who a program acts for, by the token that it sent and for what is to be done. It has a tester's rights at most,
 * whatever its owner has, and never a fresh proof. Its first use is told in the log; when it was used last is written
 * every few minutes.
 */
export async function actorOfToken(
  registry: Registry,
  token: string | undefined,
  scope: TokenScope,
): Promise<Actor> {
  if (token === undefined) throw new BadToken('Send a token of yours as “Authorization: Bearer …”.', 'none');
  const hash = hashOfToken(token);
  const found = isTokenText(token) ? await openPersonalToken(registry.db, hash) : undefined;
  if (found === undefined) throw new BadToken('There is no such token, or it was ended.', 'invalid_token');
  const now = registry.now();
  if (found.expiresAt <= now)
    throw new BadToken(
      'This token is over. Make another one on your account’s page of tokens.',
      'invalid_token',
    );
  const actor = actorOf(found);
  if (actor.suspension !== undefined)
    throw new NotAllowed(suspendedWords(actor.suspension), true, {
      accountId: actor.accountId,
      act: 'useToken',
    });
  await noteUse(registry, hash, found, now);
  if (!found.scopes.includes(scope)) throw new LacksScope(actor.accountId, scope);
  return actor;
}

function actorOf(found: OpenToken): Actor {
  const { accountId, role, world, suspendedAt, suspendedFor, isAppealed } = found;
  const suspension =
    suspendedAt === null || suspendedFor === null
      ? undefined
      : { reason: suspendedFor, placedAt: suspendedAt, isAppealed: isAppealed ?? false };
  return {
    accountId,
    role: suspension === undefined && atLeast(role, 'tester') ? 'tester' : 'reader',
    world: worldKey(world),
    provedAt: new Date(0),
    suspension,
  };
}

async function noteUse(registry: Registry, hash: string, found: OpenToken, now: Date): Promise<void> {
  const staleFrom = new Date(now.getTime() - SEEN_AGAIN_MS);
  if (found.usedAt !== null) {
    if (found.usedAt <= staleFrom) await noteLaterUse(registry.db, hash, now, staleFrom);
    return;
  }
  await registry.db.$transaction(async (tx) => {
    if (!(await noteFirstUse(tx, hash, now))) return;
    await appendAudit(tx, {
      at: now,
      actorId: found.accountId,
      action: 'account.useToken',
      subjectKind: 'account',
      subjectId: found.accountId,
      personal: { of: found.accountId, fields: { name: found.name } },
    });
  });
}
