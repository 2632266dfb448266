import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { FindingResult } from '@/lib/protocol/evaluate';
import { conditionsRow, readingRows } from '@/lib/reduction/revisionRows';
import { Conflict, InvalidInput, NotFound, StaleDraft } from '@/lib/run/errors';
import { midnightUtc } from '@/lib/run/localDate';
import { parseInput } from '@/lib/run/parseInput';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import { publishedDay } from '@/lib/run/publishedDay';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { joinedWorld, worldKey } from '@/lib/run/world';
import { asJson } from '@/lib/store/asJson';
import { appendAudit } from '@/lib/store/audit';
import { holdSubjects } from '@/lib/store/correctedSubjects';
import { isUniqueViolation } from '@/lib/store/database';
import { evidenceOf } from '@/lib/store/evidence';
import { onCurrentThings } from '@/lib/store/merging';
import { holdMethodVersion } from '@/lib/store/methodVersions';
import { storeNormalisation } from '@/lib/store/normalisations';
import { holdActiveProtocol } from '@/lib/store/protocol';
import { holdPublishedDays } from '@/lib/store/publishedDays';
import { reductionSubjects } from '@/lib/store/reductionSubjects';
import { storeInputs } from '@/lib/store/revisionInputs';
import { findOrInsertSession, insertRevision, moveRun, runState } from '@/lib/store/runs';
import { traceOfDraft } from '@/lib/store/traces';
import { labelInEffect, methodInEffect } from '../method/methodInEffect';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { holdSharedPictures } from '../review/holdSharedPictures';
import { joinOpenStudy } from '../studies/addRuns';
import { traceForClass } from '../traces/keepTrace';
import { boundSubmissions } from './boundSubmissions';
import { reduceAndJudge } from './reduceAndJudge';
import { requireSubjects } from './requireSubjects';
import { sentBefore } from './sentBefore';

export const submitRunSchema = z.object({
  runId: z.uuid(),
  draftVersion: z.int32().min(1),
  /** The form as posted; without it the saved draft is submitted. */
  form: runFormSchema.optional(),
  /** Leaves the draft alone, and throws `FailsRules`, where a rule of the protocol fails: it could not be approved. */
  unlessFails: z.boolean().default(false),
});

export interface SubmittedRun {
  runNumber: number;
  revisionNumber: number;
}

/** The run was to be sent only if no rule fails, and one does. */
export class FailsRules extends Conflict {
  constructor(readonly findings: readonly FindingResult[]) {
    super('A rule of the protocol fails. The run stays a draft.');
  }
}

/** Another version of the protocol came into force between judging and storing, or the car, model or loop was changed. */
class SentByOthers extends Conflict {}

/**
 * Freezes the draft as the next revision: parsed, reduced, normalised and judged by the protocol in force, in one
 * transaction with the change of state and the audit entry. Submitting twice makes one revision, and so does withdrawing
 * a run that nobody has decided on and sending it again as it was. Where the protocol,
 * the car, the model or the loop changed meanwhile, it is reduced and judged again by what holds by now.
 */
export async function submitRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<SubmittedRun> {
  try {
    return await submitOnce(registry, actor, input);
  } catch (error) {
    if (error instanceof SentByOthers) return submitOnce(registry, actor, input);
    throw error;
  }
}

async function submitOnce(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<SubmittedRun> {
  const { runId, draftVersion, form: posted, unlessFails } = parseInput(submitRunSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const form = await onCurrentThings(registry.db, posted ?? run.draft);
  const editable = statusesAllowing('submit');
  const latest = run.revisions[0];
  if (!editable.includes(run.status) || run.draftVersion !== draftVersion) {
    // The same submission sent twice is answered with what the first one made.
    if (run.status === 'submitted' && latest && run.draftVersion === draftVersion + 1) {
      return { runNumber: run.number, revisionNumber: latest.number };
    }
    if (editable.includes(run.status)) throw new StaleDraft();
    throw new Conflict('This run has been submitted already.');
  }
  const now = registry.now();
  const parsed = parseRunForm(form, { now: now.toISOString() });
  if (!parsed.ok) throw new InvalidInput(parsed.issues);
  const { record } = parsed;
  const found = await reductionSubjects(registry.db, record);
  const subjects = requireSubjects(found, record, actor, worldKey(run.tester.world));
  // Whatever a demo account drove, or a demo car or setup, or on a demo loop, stays out of the record's rankings.
  const world = joinedWorld(
    [run, run.tester, subjects.car, subjects.setup, subjects.loop].map((of) => worldKey(of.world)),
  );
  const evidence = await evidenceOf(registry.db, runId);
  const protocol = await activeProtocol(registry);
  const recording = await traceForClass(registry, { runId, testerId: run.testerId, form });
  const method = await methodInEffect(registry.db, world);
  const { contentHash, snapshot, normalised, circumstances, findings } = await reduceAndJudge(
    registry,
    { runId, testerId: run.testerId, world, record, subjects, recording, evidence, sentAt: now },
    { method, protocol },
  );
  if (unlessFails && findings.some(({ outcome }) => outcome === 'fail')) throw new FailsRules(findings);
  const revisionNumber = (latest?.number ?? 0) + 1;

  try {
    return await registry.db.$transaction(async (tx) => {
      await holdMethodVersion(tx);
      if ((await labelInEffect(tx, world)) !== method.label)
        throw new Conflict('A new version of the method came into effect a moment ago. Send the run again.');
      if ((await holdActiveProtocol(tx)) !== protocol.id)
        throw new SentByOthers(
          'A new version of the protocol came into force a moment ago. Send the run again.',
        );
      await holdSubjects(tx, { ...record, modelId: subjects.car.modelId });
      if (!isDeepStrictEqual(await reductionSubjects(tx, record), found))
        throw new SentByOthers(
          'A value of the car, its model or the loop was changed a moment ago. Send the run again.',
        );
      if (revisionNumber === 1) await boundSubmissions(tx, run, now);
      const sessionId = await findOrInsertSession(tx, record);
      const localDate = midnightUtc(record.localDate);
      const moved = await moveRun(
        tx,
        runId,
        editable,
        {
          status: 'submitted',
          submittedAt: now,
          decidedAt: null,
          draft: form,
          draftVersion: { increment: 1 },
          draftSavedAt: now,
          carId: record.carId,
          setupId: record.setupId,
          loopId: record.loopId,
          cruiseClassKey: record.cruiseClassKey,
          sessionId,
          localDate,
          ...publishedDay(localDate, await holdPublishedDays(tx, run.testerId)),
          world,
        },
        draftVersion,
      );
      if (!moved) throw new Conflict('This draft was submitted or changed a moment ago. Reload to see it.');
      if (((await traceOfDraft(tx, runId))?.id ?? null) !== (recording?.traceId ?? null))
        throw new Conflict('The recording of this run was changed a moment ago. Reload to see it.');
      const photos = await evidenceOf(tx, runId);
      if (!isDeepStrictEqual(photos, evidence))
        throw new Conflict('The photos of this run were changed a moment ago. Reload to see them.');
      const recordAs = (revision: number) =>
        appendAudit(tx, {
          at: now,
          actorId: actor.accountId,
          action: 'run.submit',
          subjectKind: 'run',
          subjectId: runId,
          details: { revision, protocol: protocol.label },
        });
      const again = await sentBefore(tx, runId, {
        form,
        snapshot,
        findings,
        photos,
        traceId: recording?.traceId ?? null,
        protocolVersionId: protocol.id,
      });
      if (again !== undefined) {
        await recordAs(again);
        return { runNumber: run.number, revisionNumber: again };
      }
      const revision = await insertRevision(tx, {
        runId,
        traceId: recording?.traceId ?? null,
        number: revisionNumber,
        submittedById: actor.accountId,
        submittedAt: now,
        form,
        contentHash,
        startedAt: new Date(record.startedAt),
        utcOffsetMin: record.utcOffsetMin,
        localDate,
        trueSpeedMethod: record.trueSpeedMethod,
        climate: record.climate,
        chargerKind: record.chargerKind ?? null,
        isRetrospective: record.isRetrospective,
        notes: record.notes,
        protocolVersionId: protocol.id,
        readings: { create: readingRows(record) },
        conditions: { create: conditionsRow(record, snapshot.weather) },
        evidence: { create: evidence.map(({ id, marks }) => ({ evidenceId: id, marks: asJson(marks) })) },
        findings: {
          create: findings.map((finding) => ({
            ruleId: finding.ruleId,
            protocolVersionId: protocol.id,
            outcome: finding.outcome,
            numbers: finding.numbers.map((number) => ({ ...number })),
            sentence: finding.sentence,
            ...(finding.said === undefined ? {} : { said: asJson(finding.said) }),
          })),
        },
      });
      await storeInputs(tx, revision.id, { snapshot, origin: 'submitted', takenAt: now });
      await storeNormalisation(tx, revision.id, normalised, now);
      await recordAs(revisionNumber);
      await holdSharedPictures(tx, run, circumstances.pictures, now);
      if (revisionNumber === 1) await joinOpenStudy(tx, { ...record, runId, world }, actor, now);
      return { runNumber: run.number, revisionNumber };
    });
  } catch (error) {
    if (isUniqueViolation(error))
      throw new Conflict('This draft was submitted a moment ago. Reload to see it.');
    throw error;
  }
}
