import { randomInt } from 'node:crypto';
import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { isSha256 } from '@/lib/files/blobStore';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD, worldKey } from '@/lib/run/world';
import { accountById, countOwnStewards, lockStewards } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { countPending, erasePerson, type Pseudonym, recordingsOnlyOf } from '@/lib/store/erasure';
import type { Registry } from '../registry';

const eraseSchema = z.object({
  isConfirmed: z.literal(true, {
    error: 'Not confirmed. | It cannot be undone. | Read what stays and what goes, and tick the box.',
  }),
});

/** No letters or digits that are read for others. */
const ALPHABET = '23456789abcdefghjkmnpqrstuvwxyz';

function newPseudonym(): Pseudonym {
  const mark = Array.from({ length: 8 }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
  return { displayName: `Former tester ${mark}`, slug: `former-tester-${mark}` };
}

/**
 * Erases the actor's account: what names the person goes for good, and what they measured stays in the record under a
 * name that is nobody's, with the photos that reviewers decided by. The log keeps its acts; the salt that bound it to
 * names is destroyed, so its seals hold and say nothing.
 */
export async function eraseAccount(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  const at = registry.now();
  requireFresh(actor, at);
  parseInput(eraseSchema, input);
  const { accountId } = actor;
  const recordings = await registry.db.$transaction(async (tx) => {
    // Two last stewards at once: the second one finds itself alone.
    const stewards = await lockStewards(tx);
    const account = await accountById(tx, accountId);
    if (account === null || account.erasedAt !== null) throw new Conflict('This account is erased already.');
    const isOfRecord = worldKey(account.world) === RECORD;
    if (isOfRecord && stewards.includes(accountId) && (await countOwnStewards(tx)) === 1)
      throw new Conflict('You are the only steward. Give the role to somebody else first.');
    if ((await countPending(tx, accountId)) > 0)
      throw new Conflict('Runs of yours wait for a reviewer. Withdraw them first, or wait for the decision.');
    const originals = await recordingsOnlyOf(tx, accountId);
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action: 'account.erase',
      subjectKind: 'account',
      subjectId: accountId,
    });
    await erasePerson(tx, accountId, newPseudonym(), at);
    return originals;
  });
  for (const { digest } of recordings) if (isSha256(digest)) await registry.blobs.remove(digest);
}
