import { createHash } from 'node:crypto';
import { contentFingerprint } from '@/lib/protocol/duplicates';
import { judgeRun } from '@/lib/protocol/judgeRun';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { type Recording, takeSnapshot } from '@/lib/reduction/takeSnapshot';
import type { RunRecord } from '@/lib/run/runRecord';
import type { WorldKey } from '@/lib/run/world';
import type { Registry } from '../registry';
import { circumstancesOf } from './circumstances';
import { drivingOf } from './drivingOf';
import { neighbourhoodOf, ownPart } from './neighbourhood';
import type { Subjects } from './requireSubjects';

/** A run as it is sent in, or would be. */
export interface RunToJudge {
  runId: string;
  testerId: string;
  world: WorldKey;
  record: RunRecord;
  subjects: Subjects;
  recording: Recording | undefined;
  evidence: Parameters<typeof circumstancesOf>[1]['evidence'];
  sentAt: Date;
}

/** What is made of a run and found on it: what a submission keeps, and what a dry run shows beforehand. Writes nothing. */
export async function reduceAndJudge(
  registry: Registry,
  run: RunToJudge,
  { method, protocol }: { method: Method; protocol: ProtocolVersion },
) {
  const { runId, testerId, world, record, subjects, recording, evidence, sentAt } = run;
  const contentHash = createHash('sha256').update(contentFingerprint(record)).digest('hex');
  const driving = recording ? undefined : await drivingOf(registry, subjects, runId);
  const snapshot = takeSnapshot(record, subjects, recording, driving);
  const reduced = reduceRun(snapshot, method);
  const normalised = normalisationRow(reduced);
  const circumstances = await circumstancesOf(registry, { runId, contentHash, sentAt, evidence });
  const neighbourhood = await neighbourhoodOf(registry, {
    runId,
    testerId,
    world,
    record,
    own: ownPart(normalised),
    hasRecording: recording !== undefined,
    sentAt,
  });
  const findings = judgeRun(record, reduced, { ...circumstances, neighbourhood }, protocol);
  return { contentHash, snapshot, normalised, circumstances, findings };
}
