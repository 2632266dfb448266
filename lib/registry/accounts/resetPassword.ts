import { z } from 'zod';
import { letterOfChange, letterToReset } from '@/lib/mail/letters';
import { emailSchema } from '@/lib/run/emailSchema';
import { parseInput } from '@/lib/run/parseInput';
import { accountByEmail, accountById, proveEmail, setPasswordHash } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { endTokens, openToken, spendToken } from '@/lib/store/tokens';
import { recordAct } from '../audit/recordAct';
import { requestRefitsOf } from '../rankings/requestRefit';
import type { Registry } from '../registry';
import { boundLetters } from './boundLetters';
import type { Mail } from './mail';
import { hashPassword, requireStrongPassword } from './password';
import { endAllAccess } from './personalTokens';
import { linkIsOver } from './proveAddress';
import { hashOfSecret, newSecret } from './secrets';

/**
 * Asks for a new password. The answer is the same whether the address has an account; what only happens where it has one
 * is given back to be done after the answer, so that its time does not tell either.
 */
export async function askForReset(
  registry: Registry,
  mail: Mail,
  input: unknown,
  address?: string,
): Promise<() => Promise<void>> {
  const { email } = parseInput(z.object({ email: emailSchema }), input);
  // By the address asked for, and by the network where it is known: nobody goes through a list of addresses.
  await boundLetters(registry, `reset ${email}`);
  if (address !== undefined) await boundLetters(registry, `reset from ${address}`);
  return () => sendReset(registry, mail, email);
}

async function sendReset(registry: Registry, mail: Mail, email: string): Promise<void> {
  const at = registry.now();
  const account = await accountByEmail(registry.db, email);
  // Told like a failed sign-in: by whom is not known.
  const told = { actorId: undefined, action: 'account.askForReset', subjectKind: 'account' };
  if (account === null) return recordAct(registry, { ...told, subjectId: 'none' });
  const secret = await registry.db.$transaction(async (tx) => {
    const made = await newSecret(tx, { accountId: account.id, kind: 'reset' }, at);
    await appendAudit(tx, { ...told, at, subjectId: account.id });
    return made;
  });
  await mail.outbox.put(letterToReset(email, mail.site, secret), at);
}

const resetSchema = z.object({ token: z.string().max(100), newPassword: z.string() });

/**
 * Sets a new password by the secret of a letter, and ends every sign-in and token. A second factor stays and is asked for at the
 * next one: the letter box alone opens no account that has one.
 */
export async function resetPassword(registry: Registry, mail: Mail, input: unknown): Promise<void> {
  const { token, newPassword } = parseInput(resetSchema, input);
  const hash = hashOfSecret(token);
  const at = registry.now();
  const accountId = (await openToken(registry.db, hash, 'reset', at))?.accountId;
  const account = accountId === undefined ? null : await accountById(registry.db, accountId);
  const email = account?.email;
  if (account === null || !email) throw linkIsOver();
  requireStrongPassword(newPassword, 'newPassword', [email, account.displayName]);
  const passwordHash = await hashPassword(newPassword);
  await registry.db.$transaction(async (tx) => {
    if (!(await spendToken(tx, hash, at))) throw linkIsOver();
    await setPasswordHash(tx, account.id, passwordHash);
    // The letter came to this address; it may have been changed since.
    if (account.emailVerifiedAt === null) {
      await proveEmail(tx, account.id, email, at);
      await requestRefitsOf(tx, account.id, at);
    }
    await endTokens(tx, account.id, ['reset'], at);
    await endAllAccess(tx, account.id, at);
    await appendAudit(tx, {
      at,
      actorId: account.id,
      action: 'account.resetPassword',
      subjectKind: 'account',
      subjectId: account.id,
    });
  });
  await mail.outbox.put(letterOfChange(email, mail.site, 'A new password was chosen by a mailed link.'), at);
}
