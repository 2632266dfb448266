import { requireSignedIn } from '@/lib/access/authorise';
import { InvalidInput } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { accountById, setAccountDisplay } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Preferences } from '@/lib/units/display';
import { parsePreferences, preferencesFrom } from '@/lib/units/displaySchema';
import type { Registry } from '../registry';

/** What a form sent of units and appearance; every choice has to be one on offer. */
export function chosenPreferences(input: unknown): Preferences {
  const parsed = parsePreferences(input);
  if (parsed.success) return parsed.data;
  throw new InvalidInput(
    parsed.error.issues.map(({ path }) => ({
      path: path.join('.'),
      what: 'This choice is not on offer.',
      why: 'Numbers can be shown in the units of the list only.',
      fix: 'Choose one of the list.',
    })),
  );
}

/** Keeps a choice of units and appearance with the account. */
export async function keepDisplay(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Preferences> {
  requireSignedIn(actor);
  const preferences = chosenPreferences(input);
  await write(registry, actor.accountId, preferences, false);
  return preferences;
}

/**
 * At sign-in the account's choice wins; where it has none, what the visitor chose before is taken over.
 * Gives back what the account has then.
 */
export async function settleDisplay(
  registry: Registry,
  accountId: string,
  ofVisitor: Preferences | undefined,
): Promise<Preferences | undefined> {
  if (ofVisitor !== undefined && (await write(registry, accountId, ofVisitor, true))) return ofVisitor;
  const account = await accountById(registry.db, accountId);
  return account?.display == null ? undefined : preferencesFrom(account.display);
}

function write(
  registry: Registry,
  accountId: string,
  preferences: Preferences,
  onlyWhereNone: boolean,
): Promise<boolean> {
  return registry.db.$transaction(async (tx) => {
    if (!(await setAccountDisplay(tx, accountId, preferences, { onlyWhereNone }))) return false;
    await appendAudit(tx, {
      at: registry.now(),
      actorId: accountId,
      action: 'account.display',
      subjectKind: 'account',
      subjectId: accountId,
    });
    return true;
  });
}
