import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import type { ShippedVersion } from '@/lib/protocol/parameters';
import { faultsOfNewVersion, readStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD, WORLDS, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { currentGroups } from '@/lib/store/fits';
import { enqueueJob } from '@/lib/store/jobs';
import {
  activeProtocolVersion,
  insertActiveProtocolVersion,
  retireProtocolVersion,
} from '@/lib/store/protocol';
import type { Registry } from '../registry';
import { requestJudging } from '../runs/judgeAgain';

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
  const at = registry.now();
  try {
    await registry.db.$transaction(async (tx) => {
      const before = await activeProtocolVersion(tx);
      if (before?.id !== seenVersionId || !(await retireProtocolVersion(tx, before.id, at))) throw wasFirst();
      const id = await insertActiveProtocolVersion(tx, {
        label,
        summary: shipped.summary,
        parameters: shipped.parameters,
        createdById: actor.accountId,
        at,
      });
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'protocol.publish',
        subjectKind: 'protocolVersion',
        subjectId: id,
        details: { label, inPlaceOf: before.label },
      });
      for (const world of WORLDS) await requestJudging(tx, world, at);
      const { ranking, screening } = readStoredParameters(before.parameters);
      const asks = (counts: object) => JSON.stringify(Object.entries(counts).sort());
      const { parameters } = shipped;
      if (asks(ranking) !== asks(parameters.ranking) || asks(screening) !== asks(parameters.screening))
        await enqueueRankings(tx, at);
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw wasFirst();
    throw error;
  }
  return { label };
}

async function enqueueRankings(db: Queryable, at: Date): Promise<void> {
  for (const { group } of await currentGroups(db)) {
    await enqueueJob(db, 'refit', comparisonGroupKey(group.cruiseClass.key, worldKey(group.world)), at);
  }
}

function wasFirst(): Conflict {
  return new Conflict('Another version came into force a moment ago. Look at that one first.');
}
