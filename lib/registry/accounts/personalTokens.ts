import { z } from 'zod';
import { authorise, requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import {
  hashOfToken,
  MOST_TOKENS,
  newToken,
  SCOPE_KEYS,
  scopeWords,
  TOKEN_DAYS,
} from '@/lib/access/personalTokens';
import { letterOfToken } from '@/lib/mail/letters';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { accountById } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import {
  countPersonalTokens,
  endPersonalToken,
  endPersonalTokens,
  insertPersonalToken,
  lockAccount,
  personalTokensOf,
} from '@/lib/store/personalTokens';
import { openSignIn } from '@/lib/store/signIns';
import { forgetTokens } from '@/lib/store/tokens';
import type { Registry } from '../registry';
import type { SignedIn } from './currentActor';
import type { Mail } from './mail';
import { endEverySignIn } from './signIns';

const DAY_MS = 24 * 60 * 60 * 1000;

/** Listed for so long after its end, so that a program that stopped is understood. */
const KEPT_MS = 7 * DAY_MS;

const makeSchema = z.object({
  name: z
    .string()
    .trim()
    .min(1, 'It has no name. | You end it by its name one day. | Say which program it is for, and where.')
    .max(60, 'The name is too long. | It stands in a list. | Use at most 60 characters.'),
  scopes: z
    .array(
      z.enum(SCOPE_KEYS, {
        error: 'This is not one of the rights. | A token may do only what is listed. | Choose from the list.',
      }),
    )
    .max(SCOPE_KEYS.length)
    .transform((scopes) => SCOPE_KEYS.filter((key) => scopes.includes(key)))
    .refine((scopes) => scopes.length > 0, {
      message: 'Nothing is chosen. | Such a token could do nothing. | Choose what the program needs.',
    }),
  days: z.literal(TOKEN_DAYS, {
    error: 'How long it works is not chosen. | None works for ever. | Choose one of the times.',
  }),
});

export interface MadeToken {
  /** Told this once: only its hash is kept. */
  secret: string;
  expiresAt: string;
}

/**
 * Makes a token by which a program acts for the actor's account, as far as its scopes go. A letter tells of it, as
 * whoever made it may be somebody else at an open screen.
 */
export async function makePersonalToken(
  registry: Registry,
  mail: Mail,
  actor: SignedIn | undefined,
  input: unknown,
): Promise<MadeToken> {
  authorise(actor, 'makeToken');
  const at = registry.now();
  requireFresh(actor, at);
  const { name, scopes, days } = parseInput(makeSchema, input);
  const { accountId } = actor;
  const secret = newToken();
  const expiresAt = new Date(at.getTime() + days * DAY_MS);
  await registry.db.$transaction(async (tx) => {
    await lockAccount(tx, accountId);
    // A new password may have ended all that was open while this one was on its way.
    if ((await openSignIn(tx, actor.signInKey)) === undefined) throw new Conflict('This sign-in was ended.');
    await forgetTokens(tx, new Date(at.getTime() - KEPT_MS));
    if ((await countPersonalTokens(tx, accountId, at)) >= MOST_TOKENS)
      throw new Conflict(`You have ${MOST_TOKENS} tokens that work, as many as there may be: end one first.`);
    await insertPersonalToken(tx, {
      hash: hashOfToken(secret),
      accountId,
      name,
      scopes,
      createdAt: at,
      expiresAt,
    });
    await appendAudit(tx, {
      ...toldOf(actor, 'account.makeToken', name),
      at,
      details: { scopes: scopes.join(' '), days },
    });
  });
  const account = await accountById(registry.db, accountId);
  if (account?.email)
    await mail.outbox.put(
      letterOfToken(account.email, mail.site, { name, mayDo: scopes.map(scopeWords), days }),
      at,
    );
  return { secret, expiresAt: expiresAt.toISOString() };
}

export interface TokenView {
  key: string;
  name: string;
  mayDo: string[];
  createdAt: string;
  expiresAt: string;
  isOver: boolean;
  /** Undefined where no program has used it. */
  usedAt: string | undefined;
}

/** More than can be in the list: those that work, and those that are over and still told of. */
const MOST_LISTED = 100;

/** The actor's own tokens, the latest first, without what would open anything. */
export async function readPersonalTokens(registry: Registry, actor: Actor | undefined): Promise<TokenView[]> {
  requireSignedIn(actor);
  const now = registry.now();
  const rows = await personalTokensOf(registry.db, actor.accountId, MOST_LISTED);
  return rows.map(({ hash, name, scopes, createdAt, expiresAt, usedAt }) => ({
    key: hash,
    name: name ?? '',
    mayDo: scopes.map(scopeWords),
    createdAt: createdAt.toISOString(),
    expiresAt: expiresAt?.toISOString() ?? '',
    isOver: expiresAt !== null && expiresAt <= now,
    usedAt: usedAt?.toISOString(),
  }));
}

const endSchema = z.object({ key: z.string().max(64) });

/** Ends one of the actor's own tokens from the next request on: quickly done, as it may have leaked. */
export async function revokePersonalToken(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  const { key } = parseInput(endSchema, input);
  await registry.db.$transaction(async (tx) => {
    const ended = await endPersonalToken(tx, actor.accountId, key);
    if (ended === null) throw new NotFound('This token is ended already.');
    await appendAudit(tx, {
      ...toldOf(actor, 'account.revokeToken', ended.name ?? ''),
      at: registry.now(),
    });
  });
}

/** In the log it is told by its name, which goes when the account is erased. */
export function toldOf({ accountId }: Pick<Actor, 'accountId'>, action: string, name: string) {
  return {
    actorId: accountId,
    action,
    subjectKind: 'account',
    subjectId: accountId,
    personal: { of: accountId, fields: { name } },
  };
}

/**
 * In the transaction of what is done where somebody else may have got in: every sign-in, and what programs come in by.
 * A new role alone ends no token, as none has more than a tester's rights.
 */
export async function endAllAccess(tx: Queryable, accountId: string, at: Date): Promise<void> {
  await endEverySignIn(tx, accountId, at);
  await endPersonalTokens(tx, accountId);
}
