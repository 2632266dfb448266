import { faultOfPersonName, tidyName } from '@/lib/run/names/publicName';
import { likenessKeys } from '@/lib/run/names/skeleton';
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
import type { Queryable } from '@/lib/store/database';
import { lockNames, nameAlike } from '@/lib/store/nameKeys';
import { recordAct } from '../audit/recordAct';
import { keepName } from '../names/claimName';
import type { Registry } from '../registry';

/** No account has it. */
const NOBODY = '00000000-0000-0000-0000-000000000000';

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
  return registry.db.$transaction(async (tx) => {
    const displayName = await freeName(tx, registry.world, profile.name);
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
    await keepName(tx, {
      kind: 'person',
      scope: registry.world,
      thingId: account.id,
      name: displayName,
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

/** What the provider calls them, where that may stand in public; numbered where somebody else looks the same. */
async function freeName(tx: Queryable, scope: string, wanted: string | undefined): Promise<string> {
  const tidy = [...tidyName(wanted ?? '')].slice(0, 50).join('').trim();
  const base = tidy.length >= 2 && faultOfPersonName(tidy) === undefined ? tidy : 'New tester';
  await lockNames(tx, 'person');
  for (let ordinal = 1; ; ordinal += 1) {
    const name = ordinal === 1 ? base : `${base} ${ordinal}`;
    const named = { kind: 'person', scope, thingId: NOBODY, name } as const;
    if ((await nameAlike(tx, named, likenessKeys(name), false)) === null) return name;
  }
}
