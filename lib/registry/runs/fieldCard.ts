import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { type RunStatus, statusAfter } from '@/lib/run/runStatus';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { type FormSubjects, formSubjects } from './formSubjects';
import { startDraft } from './startDraft';

/** What a phone keeps of its tester's account to begin a run without a signal. */
export interface FieldLists extends FormSubjects {
  accountId: string;
  displayName: string;
}

/** A run as the server holds it, for a phone that has to know what its last sending came to. */
export interface ServerDraft {
  runId: string;
  number: number;
  status: RunStatus;
  isEditable: boolean;
  draftVersion: number;
  form: RunForm;
}

export async function fieldLists(
  registry: Registry,
  actor: (Actor & { displayName: string }) | undefined,
): Promise<FieldLists> {
  authorise(actor, 'recordRun');
  return {
    accountId: actor.accountId,
    displayName: actor.displayName,
    ...(await formSubjects(registry, actor.accountId)),
  };
}

/** One run of the actor's own. */
export async function serverDraft(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<ServerDraft> {
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
  };
}

/**
 * Opens the draft of a run that began on a phone, or tells what became of it. The phone says for whom it kept the run:
 * when somebody else has signed in on it since, nothing is made under the wrong name.
 */
export async function openFieldRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<ServerDraft> {
  const { accountId, ...draft } = parseInput(z.looseObject({ accountId: z.uuid() }), input);
  if (actor !== undefined && actor.accountId !== accountId) {
    throw new NotAllowed('This run was noted by another account of this phone.', true, {
      accountId: actor.accountId,
      act: 'recordRun',
    });
  }
  const { runId } = await startDraft(registry, actor, draft);
  return serverDraft(registry, actor, runId);
}
