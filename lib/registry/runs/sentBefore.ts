import { isDeepStrictEqual } from 'node:util';
import type { FindingResult } from '@/lib/protocol/evaluate';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import type { PhotoMark } from '@/lib/run/photoMarks';
import { RUN_FORM_NAMES, type RunForm } from '@/lib/run/runForm';
import { asJson } from '@/lib/store/asJson';
import type { Queryable } from '@/lib/store/database';
import { unreviewedRevision } from '@/lib/store/unreviewed';

interface Submission {
  form: RunForm;
  snapshot: ReductionSnapshot;
  findings: readonly Pick<FindingResult, 'ruleId' | 'outcome'>[];
  photos: readonly { id: string; marks: readonly PhotoMark[] }[];
  traceId: string | null;
  protocolVersionId: string;
}

/**
 * The number of the revision that says all of this already and was never decided on: a run that was withdrawn and is
 * sent again as it was waits under that one. Any difference, also in what is computed or judged, is a new revision.
 */
export async function sentBefore(
  db: Queryable,
  runId: string,
  sent: Submission,
): Promise<number | undefined> {
  const latest = await unreviewedRevision(db, runId);
  if (latest === undefined) return undefined;
  const isSame =
    RUN_FORM_NAMES.every((name) => (latest.form[name] ?? '') === (sent.form[name] ?? '')) &&
    latest.traceId === sent.traceId &&
    latest.protocolVersionId === sent.protocolVersionId &&
    isDeepStrictEqual(photoTexts(latest.photos), photoTexts(sent.photos)) &&
    isDeepStrictEqual(outcomes(latest.findings), outcomes(sent.findings)) &&
    isDeepStrictEqual(latest.snapshot, asJson(sent.snapshot));
  return isSame ? latest.number : undefined;
}

function photoTexts(photos: Submission['photos']): string[] {
  return photos.map(({ id, marks }) => `${id} ${JSON.stringify(marks)}`).sort();
}

function outcomes(findings: Submission['findings']): string[] {
  return findings.map(({ ruleId, outcome }) => `${ruleId} ${outcome}`).sort();
}
