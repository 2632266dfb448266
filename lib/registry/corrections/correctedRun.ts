import { createHash } from 'node:crypto';
import { isDeepStrictEqual } from 'node:util';
import { contentFingerprint } from '@/lib/protocol/duplicates';
import { countOutcomes, type FindingResult } from '@/lib/protocol/evaluate';
import { judgeRun } from '@/lib/protocol/judgeRun';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import type { Change } from '@/lib/reduction/corrections/change';
import { correctRecord, correctSnapshot } from '@/lib/reduction/corrections/correctSnapshot';
import { type Method, type ReducedRun, reduceRun } from '@/lib/reduction/reduceRun';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunRecord } from '@/lib/run/runRecord';
import { worldKey } from '@/lib/run/world';
import type { CorrectedBase, NewCorrectionRun } from '@/lib/store/correctionRuns';
import type { Registry } from '../registry';
import { circumstancesOf } from '../runs/circumstances';
import { neighbourhoodOf, ownPart } from '../runs/neighbourhood';

/** What a correction makes of one run: nothing where it is not touched. Throws, in words, where it cannot be computed. */
export async function correctedRun(
  registry: Registry,
  base: CorrectedBase,
  change: Change,
  { method, protocol }: { method: Method; protocol: ProtocolVersion },
): Promise<Omit<NewCorrectionRun, 'correctionId'> | undefined> {
  if (base.inputs === null) throw new Error('what it was made from is not there.');
  if (!base.inputs.ok) throw new Error(`what it was made from cannot be read: ${base.inputs.message}`);
  const { snapshot } = base.inputs;
  const record = requireRecord(base, base.form);
  const corrected = change.kind === 'run' ? requireRecord(base, change.after) : record;
  const next = change.kind === 'run' ? correctRecord(snapshot, corrected) : correctSnapshot(snapshot, change);
  if (next === snapshot) return undefined;
  const [before, after] = [reduceRun(snapshot, method), reduceRun(next, method)];
  // One more calibration in the list that the run does not use makes no other run of it.
  if (change.kind === 'calibrations' && isDeepStrictEqual(before, after)) return undefined;
  const judged = (as: RunRecord, reduced: ReducedRun) => judgeBase(registry, base, { as, reduced, protocol });
  const [found, finds] = [await judged(record, before), await judged(corrected, after)];
  const [counts, next_] = [countOutcomes(found), countOutcomes(finds)];
  const old = normalisationRow(before);
  return {
    runId: base.run.id,
    number: base.run.number,
    testerId: base.run.testerId,
    isCounted: base.run.status === 'approved',
    baseId: base.id,
    beforeWhPerKm: old.normalisedWhPerKm,
    beforeUWhPerKm: old.uWhPerKm,
    failsBefore: counts.fail,
    failsAfter: next_.fail,
    cautionsBefore: counts.caution,
    cautionsAfter: next_.caution,
    snapshot: next,
    row: normalisationRow(after),
    findings: finds,
  };
}

/** The record that a form of the run says, as of when it was sent in. */
function requireRecord(base: CorrectedBase, form: CorrectedBase['form']): RunRecord {
  const record = recordOf(base, form);
  if (record === undefined) throw new Error('its form can no longer be read.');
  return record;
}

/** Undefined where an old form is none any more. */
export function recordOf(base: CorrectedBase, form: CorrectedBase['form']): RunRecord | undefined {
  const parsed = parseRunForm(form, { now: base.submittedAt.toISOString() });
  return parsed.ok ? parsed.record : undefined;
}

/** As the protocol would judge the run today, by what was there when it was sent in. */
export async function judgeBase(
  registry: Registry,
  base: CorrectedBase,
  { as, reduced, protocol }: { as: RunRecord; reduced: ReducedRun; protocol: ProtocolVersion },
): Promise<FindingResult[]> {
  const [findings = []] = await judgeBaseBy(registry, base, { as, reduced, protocols: [protocol] });
  return findings;
}

/** The same by several versions, from one look at what was there. */
export async function judgeBaseBy(
  registry: Registry,
  base: CorrectedBase,
  { as, reduced, protocols }: { as: RunRecord; reduced: ReducedRun; protocols: readonly ProtocolVersion[] },
): Promise<FindingResult[][]> {
  const circumstances = await circumstancesOf(registry, {
    runId: base.run.id,
    contentHash: contentHashOf(as),
    sentAt: base.submittedAt,
    evidence: base.evidence,
  });
  const neighbourhood = await neighbourhoodOf(registry, {
    runId: base.run.id,
    testerId: base.run.testerId,
    world: worldKey(base.run.world),
    record: as,
    own: ownPart(normalisationRow(reduced)),
    hasRecording: base.inputs?.ok === true && base.inputs.snapshot.recording !== null,
    sentAt: base.submittedAt,
  });
  return protocols.map((protocol) => judgeRun(as, reduced, { ...circumstances, neighbourhood }, protocol));
}

/** By which a run that was sent in twice is found. */
export function contentHashOf(record: RunRecord): string {
  return createHash('sha256').update(contentFingerprint(record)).digest('hex');
}
