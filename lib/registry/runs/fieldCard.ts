import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { type RunStatus, statusAfter } from '@/lib/run/runStatus';
import { runState } from '@/lib/store/runs';
import { latestSheets } from '@/lib/store/sessionSheets';
import type { Registry } from '../registry';
import { openSheetRun } from '../sessionSheets/addSheetRun';
import { type HeldSheet, heldSheet } from '../sessionSheets/heldSheet';
import { MOST_DAYS } from '../sessionSheets/latestDays';
import { openDay } from '../sessionSheets/openSheet';
import { type FormSubjects, formSubjects } from './formSubjects';
import { startDraft } from './startDraft';

/** What a phone keeps of its tester's account to begin a run without a signal. */
export interface FieldLists extends FormSubjects {
  accountId: string;
  displayName: string;
  /** The latest sheets, to go on with: what their runs share. */
  days: KeptSheet[];
}

/** A day's sheet as a phone takes it along. */
export interface KeptSheet {
  sheetId: string;
  creationKey: string;
  localDate: string;
  seen: number;
  day: RunForm;
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
  const sheets = await latestSheets(registry.db, actor.accountId, MOST_DAYS);
  return {
    accountId: actor.accountId,
    displayName: actor.displayName,
    ...(await formSubjects(registry, actor.accountId)),
    days: sheets.map(({ id, creationKey, localDate, version, shared }) => ({
      sheetId: id,
      creationKey,
      localDate,
      seen: version,
      day: shared,
    })),
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
 * Opens the draft of a run that began on a phone, on the sheet of its day where it is noted on one, or tells what became
 * of it.
 */
export async function openFieldRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<ServerDraft> {
  const draft = keptFor(actor, input);
  const open = draft.sheetId === undefined ? startDraft : openSheetRun;
  const { runId } = await open(registry, actor, draft);
  return serverDraft(registry, actor, runId);
}

/** Opens the sheet of a day that began on a phone, or tells what it says by now. */
export async function openFieldDay(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<HeldSheet> {
  const { sheetId } = await openDay(registry, actor, keptFor(actor, input));
  return heldSheet(registry, actor, sheetId, undefined);
}

/**
 * What a phone sends. It says for whom it kept it: when somebody else has signed in on it since, nothing is made under
 * the wrong name.
 */
function keptFor(actor: Actor | undefined, input: unknown): Record<string, unknown> {
  const { accountId, ...kept } = parseInput(z.looseObject({ accountId: z.uuid() }), input);
  if (actor !== undefined && actor.accountId !== accountId) {
    throw new NotAllowed('This was noted by another account of this phone.', true, {
      accountId: actor.accountId,
      act: 'recordRun',
    });
  }
  return kept;
}
