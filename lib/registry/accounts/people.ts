import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { isVouchedFor } from '@/lib/access/vouched';
import { type Actor, ROLES } from '@/lib/run/roles';
import { searchText } from '@/lib/run/storableText';
import { onlyWorldOf } from '@/lib/run/world';
import { countAccountsFound, listAccounts } from '@/lib/store/accounts';
import { recordPrivateRead } from '../audit/recordAct';
import { keyPart, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;

export interface PeopleQuery {
  from?: string | undefined;
  /** Part of a name or an address. */
  text?: string | undefined;
  role?: string | undefined;
  /** Those alone that may not write for now. */
  onlySuspended?: boolean;
}

/** Those with an account by name, for stewards; for one of the demo world, the accounts of that world. */
export async function readPeople(registry: Registry, actor: Actor | undefined, query: PeopleQuery = {}) {
  authorise(actor, 'manageRoles');
  // With addresses beside the names.
  await recordPrivateRead(registry, actor, { kind: 'list', id: 'people' });
  const filter = {
    text: searchText(query.text),
    role: ROLES.find((role) => role === query.role),
    onlySuspended: query.onlySuspended,
    onlyWorld: onlyWorldOf(actor),
  };
  const [page, total] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.text, keyPart.uuid]),
      read: (place, take) => listAccounts(registry.db, filter, place, take),
      keyOf: ({ displayName, id }) => [displayName, id],
    }),
    countAccountsFound(registry.db, filter),
  ]);
  return {
    ...page,
    total,
    rows: page.rows.map(({ _count, secondFactor, emailVerifiedAt, vouchedAt, suspensions, ...account }) => ({
      ...account,
      isVouched: isVouchedFor({ role: account.role, vouchedAt, emailVerifiedAt }),
      isAddressProved: emailVerifiedAt !== null,
      suspension: suspensions[0] && {
        reason: suspensions[0].reason,
        placedAt: suspensions[0].placedAt.toISOString(),
        appeal: suspensions[0].appeal ?? undefined,
      },
      isErased: account.email === null,
      hasSecondFactor: secondFactor?.confirmedAt != null,
      runs: _count.runs,
      decisions: _count.decisions,
      isSelf: account.id === actor.accountId,
    })),
  };
}
