import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { placeOfRule } from '@/lib/protocol/rulePlace';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { NotFound } from '@/lib/run/errors';
import type { RunSection } from '@/lib/run/fields/sections';
import { parseInput } from '@/lib/run/parseInput';
import type { PhotoMark } from '@/lib/run/photoMarks';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { runForForm } from '@/lib/store/drafts';
import { evidenceOf } from '@/lib/store/evidence';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { type FormSubjects, formSubjects } from './formSubjects';

export interface FormPhoto {
  id: string;
  kind: string;
  sha256: string;
  thumbSha256: string;
  widthPx: number;
  heightPx: number;
  capturedAt: string | undefined;
  /** Where it shows which reading. */
  marks: readonly PhotoMark[];
}

export interface ReviewRemark {
  ruleId: string;
  title: string;
  text: string;
  section: RunSection | undefined;
  field: string | undefined;
}

export interface RecordFormView extends FormSubjects {
  runId: string;
  number: number;
  status: RunStatus;
  draftVersion: number;
  savedAt: string;
  submittedAt: string | undefined;
  form: RunForm;
  /** As it was sent last, to show what has changed since. */
  sentForm: RunForm | undefined;
  /** Of a draft never sent, 0. */
  revisionNumber: number;
  world: WorldKey;
  /** The study whose button began it. */
  begunForStudyId?: string | undefined;
  photos: FormPhoto[];
  /** What the reviewer asked for, when changes are asked. */
  review: { note: string; decidedAt: string; remarks: ReviewRemark[] } | undefined;
  now: string;
}

/** Everything that the form of one run shows, for its tester only. */
export async function recordForm(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<RecordFormView> {
  const run = await runForForm(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const [subjects, photos] = await Promise.all([
    formSubjects(registry, actor.accountId, { runId, form: run.draft }),
    evidenceOf(registry.db, runId),
  ]);
  const revision = run.revisions[0];
  const decision = revision?.decisions[0];
  return {
    runId: run.id,
    number: run.number,
    status: run.status,
    draftVersion: run.draftVersion,
    savedAt: run.draftSavedAt.toISOString(),
    submittedAt: run.submittedAt?.toISOString(),
    form: run.draft,
    sentForm: revision?.form,
    revisionNumber: revision?.number ?? 0,
    world: worldKey(run.world),
    begunForStudyId: run.begunForStudyId ?? undefined,
    ...subjects,
    photos: photos.map(photoOf),
    review:
      run.status === 'changesAsked' && decision !== undefined
        ? {
            note: decision.note,
            decidedAt: decision.decidedAt.toISOString(),
            remarks: decision.reasons.map(remarkOf),
          }
        : undefined,
    now: registry.now().toISOString(),
  };
}

function remarkOf(reason: { ruleId: string; text: string }): ReviewRemark {
  const place = placeOfRule(reason.ruleId);
  return {
    ruleId: reason.ruleId,
    title: wordsOfRule(reason.ruleId).title,
    text: reason.text,
    section: place?.section,
    field: place?.field,
  };
}

/** The photos of a run as its form shows them, for its tester only. */
export async function photosOf(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<FormPhoto[]> {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  return (await evidenceOf(registry.db, runId)).map(photoOf);
}

function photoOf(photo: Awaited<ReturnType<typeof evidenceOf>>[number]): FormPhoto {
  return {
    id: photo.id,
    kind: photo.kind,
    sha256: photo.sha256,
    thumbSha256: photo.thumbSha256,
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    capturedAt: photo.capturedAt?.toISOString(),
    marks: photo.marks,
  };
}
