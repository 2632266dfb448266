import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import type { ShippedVersion } from '@/lib/protocol/parameters';
import { faultsOfNewVersion } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { isUniqueViolation } from '@/lib/store/database';
import { announcedDraft } from '@/lib/store/protocolDrafts';
import type { Registry } from '../registry';
import { isAnnounced, putInForce, wasFirst } from './putInForce';

const publishSchema = z.object({
  /** The version whose differences the steward read. */
  label: z.string().min(1).max(40),
  /** The version that was in force then. */
  seenVersionId: z.uuid(),
  isConfirmed: z.literal(true, {
    error:
      'Not confirmed. | From now on every run that is sent in is judged by the new version. | Read the differences and tick the box.',
  }),
});

/**
 * Puts the version that this release ships in force, in the place of the one that the steward saw. Runs already sent
 * in stay judged by the version that they are pinned to; those sent in from now on are judged by this one. Where it
 * asks other counts of a ranking, or screens by other levels, the rankings are drawn anew.
 */
export async function publishProtocol(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
  shipped: ShippedVersion = NEWEST_VERSION,
): Promise<{ label: string }> {
  const { label, seenVersionId } = parseInput(publishSchema, input);
  // The protocol is the record's too: the demo accounts, whose password many know, do not change it.
  authorise(actor, 'manageProtocol', undefined, RECORD);
  requireFresh(actor, registry.now());
  if (label !== shipped.label) throw new Conflict('This release ships another version. Reload to read it.');
  const faults = faultsOfNewVersion(shipped.parameters);
  if (faults.length > 0) throw new RangeError(`version ${shipped.label}: ${faults.join(' ')}`);
  try {
    await registry.db.$transaction(async (tx) => {
      await putInForce(tx, shipped, { seenVersionId, by: actor.accountId, at: registry.now() });
      // Asked last: whoever announces one holds the version in force, which is retired by now.
      const announced = await announcedDraft(tx);
      if (announced !== null) throw isAnnounced(announced.label);
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw wasFirst();
    throw error;
  }
  return { label };
}
