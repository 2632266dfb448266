import { z } from 'zod';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import {
  accountByEmail,
  countOwnAccounts,
  insertAccount,
  isAccountSlugTaken,
  openStewardCode,
  spendStewardCode,
} from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { parseInput } from '../parseInput';
import type { Registry } from '../registry';
import { freeSlug } from '../slug';
import { hashPassword, requireStrongPassword } from './password';
import { codeMatches } from './stewardCode';

export const signUpSchema = z.object({
  email: z
    .email('This is not an e-mail address. | It is your name at sign-in. | Enter it as name@domain.')
    .max(254)
    .transform((email) => email.toLowerCase()),
  displayName: z
    .string()
    .trim()
    .min(2, 'The name is too short. | It stands beside your runs. | Enter at least two characters.')
    .max(60, 'The name is too long. | It stands beside your runs. | Enter at most 60 characters.'),
  password: z.string(),
  stewardCode: z.string().trim().optional(),
});

/**
 * Opens an account. It becomes a tester; the very first one of an empty registry becomes steward with the
 * one-time code that the start command printed.
 */
export async function signUp(registry: Registry, input: unknown): Promise<{ accountId: string }> {
  const { email, displayName, password, stewardCode } = parseInput(signUpSchema, input);
  requireStrongPassword(password, 'password', [email, displayName]);
  const passwordHash = await hashPassword(password);
  try {
    return await registry.db.$transaction(async (tx) => {
      if ((await accountByEmail(tx, email)) !== null) throw emailTaken();
      const now = registry.now();
      const isSteward = await takeStewardCode(stewardCode);
      const slug = await freeSlug(displayName, (candidate) => isAccountSlugTaken(tx, candidate));
      const account = await insertAccount(tx, {
        email,
        displayName,
        slug,
        passwordHash,
        role: isSteward ? 'steward' : 'tester',
        world: registry.world,
        createdAt: now,
      });
      await appendAudit(tx, {
        at: now,
        actorId: account.id,
        action: 'account.signUp',
        subjectKind: 'account',
        subjectId: account.id,
        details: { role: isSteward ? 'steward' : 'tester' },
      });
      return { accountId: account.id };

      async function takeStewardCode(code: string | undefined): Promise<boolean> {
        if (code === undefined || code === '') return false;
        const open = await openStewardCode(tx);
        if ((await countOwnAccounts(tx)) > 0 || open === null || !codeMatches(code, open.codeHash)) {
          throw new InvalidInput([
            {
              path: 'stewardCode',
              what: 'This steward code is not valid.',
              why: 'It is printed at start, works once, and only while there is no account yet.',
              fix: 'Copy it again from the start message, or leave the field empty.',
            },
          ]);
        }
        if (!(await spendStewardCode(tx, open.id, registry.now()))) {
          throw new Conflict('The steward code was used a moment ago.');
        }
        return true;
      }
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw emailTaken();
    throw error;
  }
}

function emailTaken(): InvalidInput {
  return new InvalidInput([
    {
      path: 'email',
      what: 'This e-mail address has an account already.',
      why: 'One person, one account.',
      fix: 'Sign in instead.',
    },
  ]);
}
