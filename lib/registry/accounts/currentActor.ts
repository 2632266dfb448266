import type { Role } from '@/lib/run/roles';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { accountById } from '@/lib/store/accounts';
import type { Preferences } from '@/lib/units/display';
import { preferencesFrom } from '@/lib/units/displaySchema';
import type { Registry } from '../registry';

export interface SignedIn {
  accountId: string;
  role: Role;
  displayName: string;
  slug: string;
  world: WorldKey;
  /** Units and appearance kept with the account, where they were chosen. */
  preferences: Preferences | undefined;
}

/**
 * The account behind a token, with the role of now and not the one of the token's day;
 * undefined when the token is from before a "sign out everywhere" or the account was erased.
 */
export async function currentActor(
  registry: Registry,
  token: { accountId: string; sessionEpoch: number },
): Promise<SignedIn | undefined> {
  const account = await accountById(registry.db, token.accountId);
  if (account === null || account.erasedAt !== null || account.sessionEpoch !== token.sessionEpoch)
    return undefined;
  return {
    accountId: account.id,
    role: account.role,
    displayName: account.displayName,
    slug: account.slug,
    world: worldKey(account.world),
    preferences: account.display === null ? undefined : preferencesFrom(account.display),
  };
}
