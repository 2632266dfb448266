import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { letterOfChange, letterToProve } from '@/lib/mail/letters';
import { emailSchema } from '@/lib/run/emailSchema';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { accountByEmail, accountById, proveEmail } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { endTokens, openToken, spendToken } from '@/lib/store/tokens';
import { requestRefitsOf } from '../rankings/requestRefit';
import type { Registry } from '../registry';
import { boundLetters } from './boundLetters';
import type { Mail } from './mail';
import { hashOfSecret, newSecret } from './secrets';

export interface AddressView {
  email: string | undefined;
  isProved: boolean;
}

export async function readAddress(registry: Registry, actor: Actor | undefined): Promise<AddressView> {
  requireSignedIn(actor);
  const account = await accountById(registry.db, actor.accountId);
  return { email: account?.email ?? undefined, isProved: account?.emailVerifiedAt != null };
}

/** Sends a link that proves the address of the account. */
export async function askToProve(registry: Registry, mail: Mail, actor: Actor | undefined): Promise<void> {
  requireSignedIn(actor);
  const { accountId } = actor;
  const account = await accountById(registry.db, accountId);
  if (!account?.email) throw new Conflict('This account has no address.');
  if (account.emailVerifiedAt !== null) throw new Conflict('This address is confirmed already.');
  await boundLetters(registry, accountId);
  await sendProof(registry, mail, accountId, account.email);
}

/**
 * Begins to change the address: the new one counts once its link was opened. Whether the address has an account is not
 * told: to one that has, no link is sent.
 */
export async function askForAddress(
  registry: Registry,
  mail: Mail,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  requireFresh(actor, registry.now());
  const { email } = parseInput(z.object({ email: emailSchema }), input);
  await boundLetters(registry, actor.accountId);
  if ((await accountByEmail(registry.db, email)) !== null) return;
  await sendProof(registry, mail, actor.accountId, email);
}

/** After opening an account: the first letter. */
export async function sendProof(
  registry: Registry,
  mail: Mail,
  accountId: string,
  email: string,
): Promise<void> {
  const at = registry.now();
  const secret = await registry.db.$transaction(async (tx) => {
    const made = await newSecret(tx, { accountId, kind: 'email', email }, at);
    await tell(tx, accountId, 'account.askToProve', at);
    return made;
  });
  await mail.outbox.put(letterToProve(email, mail.site, secret), at);
}

const secretSchema = z.object({ token: z.string().max(100) });

/** Takes the secret of a letter: the address that it was sent to is the account's, and proved. */
export async function proveAddress(registry: Registry, mail: Mail, input: unknown): Promise<void> {
  const hash = hashOfSecret(parseInput(secretSchema, input).token);
  const at = registry.now();
  const token = await openToken(registry.db, hash, 'email', at);
  if (token === null || token.email === null) throw linkIsOver();
  const { accountId, email } = token;
  const before = await accountById(registry.db, accountId);
  const isChange = before?.email !== email;
  try {
    await registry.db.$transaction(async (tx) => {
      if (!(await spendToken(tx, hash, at))) throw linkIsOver();
      if (!(await proveEmail(tx, accountId, email, at))) throw linkIsOver();
      // What stands behind an account decides what is ranked.
      await requestRefitsOf(tx, accountId, at);
      // A link to a new password went to the address before.
      if (isChange) await endTokens(tx, accountId, ['reset'], at);
      await tell(tx, accountId, isChange ? 'account.changeAddress' : 'account.proveAddress', at);
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw linkIsOver();
    throw error;
  }
  if (isChange && before?.email)
    await mail.outbox.put(
      letterOfChange(before.email, mail.site, 'Another e-mail address was confirmed for your account.'),
      at,
    );
}

export function linkIsOver(): InvalidInput {
  return new InvalidInput([
    {
      path: 'token',
      what: 'This link does not work.',
      why: 'Each works once and for a limited time, and a newer one ends those before it.',
      fix: 'Ask for another one.',
    },
  ]);
}

function tell(tx: Parameters<typeof appendAudit>[0], accountId: string, action: string, at: Date) {
  return appendAudit(tx, { at, actorId: accountId, action, subjectKind: 'account', subjectId: accountId });
}
