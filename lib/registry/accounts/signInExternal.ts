import type { Role } from '@/lib/run/roles';
import { freeSlug } from '@/lib/run/slug';
import {
  accountByEmail,
  accountByExternalIdentity,
  insertAccount,
  insertExternalIdentity,
  isAccountSlugTaken,
} from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';

export interface ExternalProfile {
  provider: string;
  providerAccountId: string;
  email: string | undefined;
  /** Only an address that the provider vouches for may be kept. */
  isEmailVerified: boolean;
  name: string | undefined;
}

/**
 * Finds or opens the account of an OAuth profile. An address that already has an account is not linked
 * silently: its owner signs in with the password, so that a look-alike identity cannot take the account over.
 */
export async function signInExternal(
  registry: Registry,
  profile: ExternalProfile,
): Promise<{ accountId: string; displayName: string; role: Role; sessionEpoch: number } | undefined> {
  const known = await accountByExternalIdentity(registry.db, profile.provider, profile.providerAccountId);
  if (known !== null) {
    const { id, ...account } = known.account;
    await recordAct(registry, {
      actorId: id,
      action: 'account.signIn',
      subjectKind: 'account',
      subjectId: id,
      details: { provider: profile.provider },
    });
    return { accountId: id, ...account };
  }
  const email = profile.isEmailVerified ? profile.email?.toLowerCase() : undefined;
  const holder = email === undefined ? null : await accountByEmail(registry.db, email);
  if (email === undefined || holder !== null) {
    await recordAct(registry, {
      actorId: undefined,
      action: 'account.signInFailed',
      subjectKind: 'account',
      subjectId: holder?.id ?? 'none',
      details: { why: holder === null ? 'noVerifiedAddress' : 'addressInUse', provider: profile.provider },
    });
    return undefined;
  }
  const displayName = (profile.name ?? '').trim().slice(0, 60) || 'New tester';
  return registry.db.$transaction(async (tx) => {
    const slug = await freeSlug(displayName, (candidate) => isAccountSlugTaken(tx, candidate));
    const now = registry.now();
    const account = await insertAccount(tx, {
      email,
      emailVerifiedAt: now,
      displayName,
      slug,
      passwordHash: null,
      role: 'tester',
      world: registry.world,
      createdAt: now,
    });
    await insertExternalIdentity(tx, {
      provider: profile.provider,
      providerAccountId: profile.providerAccountId,
      accountId: account.id,
    });
    await appendAudit(tx, {
      at: now,
      actorId: account.id,
      action: 'account.signUp',
      subjectKind: 'account',
      subjectId: account.id,
      details: { provider: profile.provider },
      personal: { of: account.id, fields: { displayName } },
    });
    return { accountId: account.id, displayName, role: 'tester' as const, sessionEpoch: 0 };
  });
}
