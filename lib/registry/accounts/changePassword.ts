import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { accountById, setPasswordHash } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Registry } from '../registry';
import { beginTry, failTry, forgiveTries, type Tried } from './boundTries';
import { hashPassword, passwordMatches, requireStrongPassword } from './password';
import { endAllAccess } from './personalTokens';
import { tooSoon } from './tooSoon';

const changePasswordSchema = z.object({ currentPassword: z.string(), newPassword: z.string() });

/** Changes the password and ends every sign-in and token; whoever changed it signs in again with the new one. */
export async function changePassword(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ email: string }> {
  requireSignedIn(actor);
  const { currentPassword, newPassword } = parseInput(changePasswordSchema, input);
  const account = await accountById(registry.db, actor.accountId);
  if (account === null) throw new NotFound('This account does not exist.');
  const tried: Tried[] = [{ thing: 'password', which: actor.accountId }];
  const waitS = await beginTry(registry, tried);
  if (waitS !== undefined) {
    throw await tooSoon(registry, {
      thing: 'password',
      accountId: actor.accountId,
      path: 'currentPassword',
      what: 'Too many wrong passwords.',
      why: 'Someone at an unlocked screen must not find it by trying.',
      waitS,
    });
  }
  if (!(await passwordMatches(account.passwordHash, currentPassword))) {
    await failTry(registry);
    throw new InvalidInput([
      {
        path: 'currentPassword',
        what: 'This is not the current password.',
        why: 'Someone at an unlocked screen must not be able to change it.',
        fix: 'Enter the password that you signed in with.',
      },
    ]);
  }
  await forgiveTries(registry, tried);
  requireStrongPassword(newPassword, 'newPassword', [account.email ?? '', account.displayName]);
  const passwordHash = await hashPassword(newPassword);
  return registry.db.$transaction(async (tx) => {
    await setPasswordHash(tx, actor.accountId, passwordHash);
    const at = registry.now();
    await endAllAccess(tx, actor.accountId, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.changePassword',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
    return { email: account.email ?? '' };
  });
}
