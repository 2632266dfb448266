import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { readStoredParameters } from '@/lib/protocol/stored';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { Conflict } from '@/lib/run/errors';
import { WORLDS, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { currentGroups } from '@/lib/store/fits';
import { enqueueJob } from '@/lib/store/jobs';
import {
  activeProtocolVersion,
  insertActiveProtocolVersion,
  retireProtocolVersion,
} from '@/lib/store/protocol';
import { requestJudging } from '../runs/judgeAgain';

export interface NewVersion {
  label: string;
  summary: string;
  parameters: ProtocolParameters;
}

interface Publication {
  /** The version in force that the steward saw; whichever it is where a day was announced. */
  seenVersionId?: string;
  by: string;
  /** Since when it was announced, where it was. */
  announcedAt?: Date;
  at: Date;
}

/**
 * In a transaction of its own: one version goes out of force and the next comes in. Runs already sent in stay judged by
 * the version that they are pinned to; what the new one would say of them is worked out in the background. Where it asks
 * other counts of a ranking, or screens by other levels, the rankings are drawn anew. Gives the new version's id.
 */
export async function putInForce(
  tx: Queryable,
  { label, summary, parameters }: NewVersion,
  { seenVersionId, by, announcedAt, at }: Publication,
): Promise<string> {
  const before = await activeProtocolVersion(tx);
  if (before === null || (seenVersionId !== undefined && before.id !== seenVersionId)) throw wasFirst();
  if (!(await retireProtocolVersion(tx, before.id, at))) throw wasFirst();
  const id = await insertActiveProtocolVersion(tx, { label, summary, parameters, createdById: by, at });
  await appendAudit(tx, {
    at,
    actorId: by,
    action: 'protocol.publish',
    subjectKind: 'protocolVersion',
    subjectId: id,
    details: {
      label,
      inPlaceOf: before.label,
      ...(announcedAt === undefined ? {} : { announcedAt: announcedAt.toISOString() }),
    },
  });
  for (const world of WORLDS) await requestJudging(tx, world, at);
  const { ranking, screening } = readStoredParameters(before.parameters);
  const asks = (counts: object) => JSON.stringify(Object.entries(counts).sort());
  if (asks(ranking) !== asks(parameters.ranking) || asks(screening) !== asks(parameters.screening))
    await enqueueRankings(tx, at);
  return id;
}

async function enqueueRankings(db: Queryable, at: Date): Promise<void> {
  for (const { group } of await currentGroups(db)) {
    await enqueueJob(db, 'refit', comparisonGroupKey(group.cruiseClass.key, worldKey(group.world)), at);
  }
}

export function wasFirst(): Conflict {
  return new Conflict('Another version came into force a moment ago. Look at that one first.');
}

export function isAnnounced(label: string): Conflict {
  return new Conflict(`Version ${label} is announced. Take it back first, or wait until it is in force.`);
}
