import type { Change } from '@/lib/reduction/corrections/change';
import { conditionsRow, readingRows } from '@/lib/reduction/revisionRows';
import { weatherOfRecord } from '@/lib/reduction/weatherOfRecord';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { Conflict } from '@/lib/run/errors';
import { parseRunForm } from '@/lib/run/parseRunForm';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import {
  type Approval,
  type CorrectedRecord,
  correctedRunIds,
  groupsOfCorrection,
  makeCorrectedRevisions,
  putInForce,
} from '@/lib/store/correctedRevisions';
import { applyChange, lockSubject } from '@/lib/store/correctedSubjects';
import { testersOfCorrection } from '@/lib/store/correctionRuns';
import { correctionById, moveCorrection, type StoredCorrection } from '@/lib/store/corrections';
import { countedLabelOf, lockRuns } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { holdMethodVersion } from '@/lib/store/methodVersions';
import { insertNotification } from '@/lib/store/notices';
import { holdActiveProtocol } from '@/lib/store/protocol';
import { recountRuns } from '../counted/countRun';
import { labelInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';
import { LEARN_JOB } from '../roadLoads/learnRoadLoad';
import { contentHashOf } from './correctedRun';
import { fingerprintOf } from './fingerprint';

/** A few thousand runs are written within this. */
const PATIENT = { timeout: 180_000, maxWait: 10_000 };
const BATCH = 200;

/** Something that the correction was computed from is another by now: it has to be computed anew. */
export class CorrectionOutdated extends Conflict {
  constructor() {
    super(
      'Something that this rests on has changed since it was computed. It is computed anew: read it again then.',
    );
  }
}

/** Who decided, on which computation; null where it touches no run and nobody has to. */
export type DecidedBy = { reviewerId: string; computation: number } | null;

/**
 * Makes a correction: the thing is changed, every run of it gets the revision that was reviewed, and those that count
 * count by it from now on, all in one transaction, or nothing at all.
 */
export async function makeCorrection(
  registry: Registry,
  correctionId: string,
  note: string,
  by: DecidedBy = null,
): Promise<void> {
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const moved = await moveCorrection(
      tx,
      correctionId,
      ['waiting'],
      { state: 'approved', decidedAt: at, decidedById: by?.reviewerId ?? null, decision: note },
      by?.computation,
    );
    const correction = moved ? await correctionById(tx, correctionId) : null;
    if (correction?.change === undefined)
      throw new Conflict('This correction is decided already, or was taken back.');
    await holdMethodVersion(tx);
    const protocolId = await holdActiveProtocol(tx);
    await requireCurrent(tx, correction, correction.change, protocolId);
    if (!(await applyChange(tx, correction.subjectId, correction.change, at)))
      throw new Conflict(
        'What is to be corrected was changed otherwise since. Reject this one; it can be proposed anew.',
      );
    const approval: Approval = {
      correctionId,
      proposedById: correction.proposedById,
      reviewerId: by?.reviewerId ?? null,
      note,
      protocolVersionId: protocolId ?? '',
      at,
    };
    const record = correction.change.kind === 'run' ? recordOf(correction.change, at) : undefined;
    await makeCorrectedRevisions(tx, approval, record);
    await putInForce(tx, approval);
    await countAnew(tx, correctionId, at);
    await tell(tx, correction, by, at);
  }, PATIENT);
}

/** With the thing and its runs locked: nothing may have changed that the computation rests on. */
async function requireCurrent(
  tx: Queryable,
  correction: StoredCorrection,
  change: Change,
  protocolId: string | undefined,
): Promise<void> {
  if (correction.fault !== null)
    throw new Conflict('Some of its runs could not be computed, so it cannot be approved.');
  const subject = { kind: change.kind, subjectId: correction.subjectId };
  await lockSubject(tx, change.kind, correction.subjectId);
  for await (const ids of batchesOf(tx, correction.id)) await lockRuns(tx, ids);
  const { fingerprint, worlds } = await fingerprintOf(tx, subject, protocolId ?? '');
  if (fingerprint !== correction.fingerprint) throw new CorrectionOutdated();
  for (const world of worlds) {
    const shown = await countedLabelOf(tx, world);
    if (shown !== undefined && shown !== (await labelInEffect(tx, world)))
      throw new Conflict(
        'All runs are being computed under a new version of the method. Decide when that is done.',
      );
  }
}

async function countAnew(tx: Queryable, correctionId: string, at: Date): Promise<void> {
  const groups = await groupsOfCorrection(tx, correctionId);
  for (const world of new Set(groups.map((group) => worldKey(group.world)))) {
    const label = await labelInEffect(tx, world);
    for await (const ids of batchesOf(tx, correctionId))
      await recountRuns(tx, ids, { world, methodVersion: label });
  }
  for (const { cruiseClassKey, world, modelId } of groups) {
    await enqueueJob(tx, 'refit', comparisonGroupKey(cruiseClassKey, worldKey(world)), at);
    await enqueueJob(tx, LEARN_JOB, modelId, at);
  }
}

async function* batchesOf(tx: Queryable, correctionId: string) {
  let last: string | undefined;
  for (;;) {
    const ids = await correctedRunIds(tx, correctionId, last, BATCH);
    if (ids.length > 0) yield ids;
    last = ids.at(-1);
    if (ids.length < BATCH) return;
  }
}

function recordOf(change: Extract<Change, { kind: 'run' }>, at: Date): CorrectedRecord {
  const parsed = parseRunForm(change.after, { now: at.toISOString() });
  if (!parsed.ok) throw new Conflict('The corrected readings can no longer be read.');
  const { record } = parsed;
  const { utcOffsetMin, trueSpeedMethod, climate, isRetrospective, notes } = record;
  return {
    form: change.after,
    contentHash: contentHashOf(record),
    columns: {
      startedAt: new Date(record.startedAt),
      utcOffsetMin,
      trueSpeedMethod,
      climate,
      chargerKind: record.chargerKind ?? null,
      isRetrospective,
      notes,
    },
    readings: readingRows(record),
    conditions: conditionsRow(record, weatherOfRecord(record)),
  };
}

async function tell(tx: Queryable, correction: StoredCorrection, by: DecidedBy, at: Date): Promise<void> {
  const { id, number, proposedById, decision } = correction;
  await appendAudit(tx, {
    at,
    actorId: by?.reviewerId,
    action: 'correction.approve',
    subjectKind: 'correction',
    subjectId: id,
    details: { reason: decision },
  });
  if (by === null) return;
  const href = `/corrections/${number}`;
  const told = await testersOfCorrection(tx, id);
  for (const { testerId, runs } of told) {
    await insertNotification(tx, {
      accountId: testerId,
      runId: null,
      kind: 'correction.approve',
      text: `Correction ${number} was approved: ${runs === 1 ? 'one run' : `${runs} runs`} of yours ${runs === 1 ? 'has' : 'have'} a new revision.`,
      href,
      createdAt: at,
    });
  }
  if (told.some(({ testerId }) => testerId === proposedById)) return;
  await insertNotification(tx, {
    accountId: proposedById,
    runId: null,
    kind: 'correction.approve',
    text: `Correction ${number} was approved.`,
    href,
    createdAt: at,
  });
}
