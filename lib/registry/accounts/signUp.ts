import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import { emailSchema } from '@/lib/run/emailSchema';
import { InvalidInput } from '@/lib/run/errors';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import { freeSlug } from '@/lib/run/slug';
import { accountByEmail, insertAccount, isAccountSlugTaken } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { claimName, keepName } from '../names/claimName';
import type { Registry } from '../registry';
import { beginTry } from './boundTries';
import { hashPassword, requireStrongPassword } from './password';
import { boundCodeTries, takeStewardCode } from './stewardCode';
import { tooSoon } from './tooSoon';

export const NAME_BOUNDS = {
  least: 2,
  most: 60,
  tooShort: 'The name is too short. | It stands beside your runs. | Enter at least two characters.',
  tooLong: 'The name is too long. | It stands beside your runs. | Enter at most 60 characters.',
};

export const signUpSchema = z.object({
  email: emailSchema,
  displayName: nameField(NAME_BOUNDS),
  password: z.string(),
  stewardCode: z
    .string()
    .trim()
    .max(60, 'This is longer than a code. | It has twelve characters. | Copy it from the start message.')
    .optional(),
});

/**
 * Opens an account. It becomes a tester; in a registry without a steward it becomes steward with the one-time code that
 * the start command printed. Many from one network (`address`, where it is known) wait.
 */
export async function signUp(
  registry: Registry,
  input: unknown,
  address?: string,
  /** A stranger's name must not pass for another's; who loads accounts answers for theirs. */
  isVisitor = false,
): Promise<{ accountId: string; email: string }> {
  const { stewardCode = '', ...account } = parseInput(signUpSchema, input);
  const { email, displayName, password } = account;
  requireStrongPassword(password, 'password', [email, displayName]);
  if (address !== undefined) await boundSignUps(registry, address);
  const passwordHash = await hashPassword(password);
  const open = () => openAccount(registry, { email, displayName, passwordHash, stewardCode, isVisitor });
  if (stewardCode === '') return open();
  // Where no network is known, everybody together: who has an account can still enter the code there.
  return boundCodeTries(registry, { source: `sign-up ${address ?? ''}` }, open);
}

/** Each counts, also one that is refused for its address: asking after others' costs the same. */
async function boundSignUps(registry: Registry, address: string): Promise<void> {
  const waitS = await beginTry(registry, [{ thing: 'signUp', which: address }]);
  if (waitS === undefined) return;
  throw await tooSoon(registry, {
    thing: 'signUp',
    path: 'email',
    what: 'Many accounts were just opened from your network.',
    why: 'Nobody may open them by the hundred.',
    waitS,
  });
}

interface OpenedAccount {
  email: string;
  displayName: string;
  passwordHash: string;
  stewardCode: string;
  isVisitor: boolean;
}

async function openAccount(
  registry: Registry,
  { stewardCode, isVisitor, ...person }: OpenedAccount,
): Promise<{ accountId: string; email: string }> {
  const role = stewardCode === '' ? 'tester' : 'steward';
  try {
    return await registry.db.$transaction(async (tx) => {
      const now = registry.now();
      // The code first: what is said of it must not depend on who has an account. A code is not used up by what fails.
      if (role === 'steward') await takeStewardCode(tx, stewardCode, now);
      const accountId = randomUUID();
      const name = {
        kind: 'person',
        scope: registry.world,
        thingId: accountId,
        name: person.displayName,
      } as const;
      // Also before the address is looked for: a name that is taken is told to anybody.
      await (isVisitor ? claimName(tx, name, 'displayName') : keepName(tx, name));
      if ((await accountByEmail(tx, person.email)) !== null) throw new AddressTaken(person.email);
      const slug = await freeSlug(person.displayName, (candidate) => isAccountSlugTaken(tx, candidate));
      const account = await insertAccount(tx, {
        ...person,
        id: accountId,
        slug,
        role,
        world: registry.world,
        createdAt: now,
        // Addresses of invented people are nobody's to prove.
        ...(registry.world === 'record' ? {} : { emailVerifiedAt: now }),
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
      return { accountId: account.id, email: person.email };
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw new AddressTaken(person.email);
    throw error;
  }
}

/** For who may know it: those who load accounts, not a visitor (`askForAccount`). */
export class AddressTaken extends InvalidInput {
  constructor(readonly email: string) {
    super([
      {
        path: 'email',
        what: 'This e-mail address has an account already.',
        why: 'One person, one account.',
        fix: 'Sign in instead.',
      },
    ]);
  }
}
