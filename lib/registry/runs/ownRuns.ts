import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { placeOfRule } from '@/lib/protocol/rulePlace';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { type InputIssue, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { type RunStatus, statusAfter } from '@/lib/run/runStatus';
import { evidenceOf } from '@/lib/store/evidence';
import { ownRun } from '@/lib/store/ownRuns';
import { runState } from '@/lib/store/runs';
import { traceOfDraft } from '@/lib/store/traces';
import type { Registry } from '../registry';
import { type FormSubjects, formSubjects } from './formSubjects';

/** What a program's run can be of, with the ids by which a draft names them. */
export async function ownChoices(registry: Registry, actor: Actor | undefined): Promise<FormSubjects> {
  authorise(actor, 'recordRun');
  return formSubjects(registry, actor.accountId);
}

export interface OwnDraft {
  runId: string;
  number: number;
  status: RunStatus;
  isEditable: boolean;
  draftVersion: number;
  form: RunForm;
  /** What keeps it from being sent, by the parser of the form. */
  toDo: InputIssue[];
}

/** A draft as it stands, for its tester alone. */
export async function ownDraft(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<OwnDraft> {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  return {
    runId: run.id,
    number: run.number,
    status: run.status,
    isEditable: statusAfter(run.status, 'submit') !== undefined,
    draftVersion: run.draftVersion,
    form: run.draft,
    toDo: toDoOf(registry, run.draft),
  };
}

export function toDoOf(registry: Registry, form: RunForm): InputIssue[] {
  const parsed = parseRunForm(form, { now: registry.now().toISOString() });
  return parsed.ok ? [] : parsed.issues;
}

interface RuleWords {
  ruleId: string;
  title: string;
  /** The field of the form to look at first. */
  field: string | undefined;
}

export interface OwnRun extends Omit<OwnDraft, 'form' | 'toDo'> {
  world: string;
  savedAt: string;
  submittedAt: string | undefined;
  photos: { id: string; kind: string; widthPx: number; heightPx: number }[];
  recording: { fileName: string; format: string; pointsRead: number; pointsUsed: number } | undefined;
  /** As it was sent last; undefined before. */
  sent:
    | {
        revision: number;
        protocolVersion: string;
        findings: (RuleWords & { outcome: string; sentence: string })[];
      }
    | undefined;
  /** Why changes are asked or it was rejected. */
  review: { note: string; decidedAt: string; reasons: (RuleWords & { text: string })[] } | undefined;
}

/** One of the actor's own runs: where it stands, what the rules found and what a reviewer said. */
export async function readOwnRun(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<OwnRun> {
  const run = await ownRun(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const [photos, trace] = await Promise.all([
    evidenceOf(registry.db, runId),
    traceOfDraft(registry.db, runId),
  ]);
  const revision = run.revisions[0];
  const decision = revision?.decisions[0];
  const isSentBack = run.status === 'changesAsked' || run.status === 'rejected';
  return {
    runId: run.id,
    number: run.number,
    status: run.status,
    isEditable: statusAfter(run.status, 'submit') !== undefined,
    draftVersion: run.draftVersion,
    world: run.world,
    savedAt: run.draftSavedAt.toISOString(),
    submittedAt: run.submittedAt?.toISOString(),
    photos: photos.map(({ id, kind, widthPx, heightPx }) => ({ id, kind, widthPx, heightPx })),
    recording: trace === null ? undefined : recordingOf(trace),
    sent: revision && {
      revision: revision.number,
      protocolVersion: revision.protocolVersion.label,
      findings: revision.findings
        .filter(({ protocolVersion }) => protocolVersion.label === revision.protocolVersion.label)
        .map(({ ruleId, outcome, sentence }) => ({ ...ruleWords(ruleId), outcome, sentence })),
    },
    review:
      isSentBack && decision !== undefined
        ? {
            note: decision.note,
            decidedAt: decision.decidedAt.toISOString(),
            reasons: decision.reasons.map(({ ruleId, text }) => ({ ...ruleWords(ruleId), text })),
          }
        : undefined,
  };
}

function recordingOf({ fileName, format, pointsRead, pointsUsed }: NonNullable<OwnRun['recording']>) {
  return { fileName, format, pointsRead, pointsUsed };
}

export function ruleWords(ruleId: string): RuleWords {
  return { ruleId, title: wordsOfRule(ruleId).title, field: placeOfRule(ruleId)?.field };
}
