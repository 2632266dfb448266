import { z } from 'zod';
import { InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { freeSlug } from '@/lib/run/slug';
import { accountByEmail, insertAccount, isAccountSlugTaken } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import type { Registry } from '../registry';
import { hashPassword, requireStrongPassword } from './password';
import { boundCodeTries, takeStewardCode } from './stewardCode';

/** From everybody together: who signs up can call themselves anything. Who has an account can still enter the code. */
const MOST_WRONG_CODES = 30;

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
  stewardCode: z
    .string()
    .trim()
    .max(60, 'This is longer than a code. | It has twelve characters. | Copy it from the start message.')
    .optional(),
});

/**
 * Opens an account. It becomes a tester; in a registry without a steward it becomes steward with the one-time code that
 * the start command printed.
 */
export async function signUp(registry: Registry, input: unknown): Promise<{ accountId: string }> {
  const { stewardCode = '', ...account } = parseInput(signUpSchema, input);
  const { email, displayName, password } = account;
  requireStrongPassword(password, 'password', [email, displayName]);
  const passwordHash = await hashPassword(password);
  const open = () => openAccount(registry, { email, displayName, passwordHash, stewardCode });
  if (stewardCode === '') return open();
  return boundCodeTries(registry, { source: 'sign-up', most: MOST_WRONG_CODES }, open);
}

interface OpenedAccount {
  email: string;
  displayName: string;
  passwordHash: string;
  stewardCode: string;
}

async function openAccount(
  registry: Registry,
  { stewardCode, ...person }: OpenedAccount,
): Promise<{ accountId: string }> {
  const role = stewardCode === '' ? 'tester' : 'steward';
  try {
    return await registry.db.$transaction(async (tx) => {
      if ((await accountByEmail(tx, person.email)) !== null) throw emailTaken();
      const now = registry.now();
      if (role === 'steward') await takeStewardCode(tx, stewardCode, now);
      const slug = await freeSlug(person.displayName, (candidate) => isAccountSlugTaken(tx, candidate));
      const account = await insertAccount(tx, {
        ...person,
        slug,
        role,
        world: registry.world,
        createdAt: now,
      });
      await appendAudit(tx, {
        at: now,
        actorId: account.id,
        action: 'account.signUp',
        subjectKind: 'account',
        subjectId: account.id,
        details: { role },
        personal: { of: account.id, fields: { displayName: person.displayName } },
      });
      return { accountId: account.id };
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
