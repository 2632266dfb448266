import { z } from 'zod';
import { countJudged, countRows, FAILING_ROWS, type ImportState } from '@/lib/capture/sheet/importReport';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { updateImport } from '@/lib/store/imports';
import { enqueueJob, latestJob } from '@/lib/store/jobs';
import type { Registry } from '../registry';
import { ownImport } from './ownImport';

/** The kind of background job that makes, or takes back, the runs of one import; its key is the import's id. */
export const IMPORT_JOB = 'import';
/** The kind that does the dry run of one import; its key is the import's id too. */
export const CHECK_IMPORT_JOB = 'checkImport';

/** Which of the two the background is at, in the states in which it is at work at all. */
export const JOB_OF_STATE: ReadonlyMap<ImportState, string> = new Map([
  ['checking', CHECK_IMPORT_JOB],
  ['running', IMPORT_JOB],
  ['undoing', IMPORT_JOB],
]);

export const startImportSchema = z.object({
  importId: z.uuid(),
  /** `all`: every row or none. `partial`: the rows that can be taken, the others stay in the report. */
  mode: z.enum(['all', 'partial'], {
    error: 'Nothing chosen. | A sheet with faults can be taken in part or not at all. | Choose one.',
  }),
  /** What becomes of rows that fail a rule of the protocol; asked where the check found any. */
  failing: z
    .enum(FAILING_ROWS, {
      error: 'Nothing chosen. | A run that fails a rule cannot be approved as it is. | Choose one.',
    })
    .optional(),
});

/** Begins the import that the dry run described; the background makes the runs. */
export async function startImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId, mode, failing } = parseInput(startImportSchema, input);
  const own = await ownImport(registry, actor, importId);
  const counts = countRows(own.report.rows);
  if (own.report.state !== 'checked') throw moved();
  if (mode === 'all' && counts.refused > 0) {
    throw new InvalidInput([
      {
        path: 'mode',
        what: `${counts.refused} of ${own.report.rows.length} rows cannot be taken.`,
        why: 'All or nothing was chosen.',
        fix: 'Correct them in the sheet and send it again, or take the others alone.',
      },
    ]);
  }
  if (counts.create === 0) throw new Conflict('No row of this sheet would make a run.');
  const { failing: fails } = countJudged(own.report.rows);
  if (failing === undefined && fails > 0) {
    throw new InvalidInput([
      {
        path: 'failing',
        what: `${fails} ${fails === 1 ? 'row fails' : 'rows fail'} a rule of the protocol.`,
        why: 'A run that fails a rule cannot be approved as it is.',
        fix: 'Say what is to become of such rows.',
      },
    ]);
  }
  // Where no row was seen to fail nothing was asked, and one that does when its turn comes is not sent unasked.
  const chosen = failing ?? 'draft';
  await moveOn(registry, own.actor, importId, 'checked', {
    report: { ...own.report, state: 'running', failing: chosen },
    mode,
    action: 'import.start',
    details: { mode, failing: chosen, ...counts },
  });
}

/** Takes an import back as far as nobody has decided on its runs: they become drafts again. Also stops a running one. */
export async function undoImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId } = parseInput(z.object({ importId: z.uuid() }), input);
  const own = await ownImport(registry, actor, importId);
  const { state } = own.report;
  if (state !== 'running' && state !== 'done') throw moved();
  await moveOn(registry, own.actor, importId, state, {
    report: { ...own.report, state: 'undoing' },
    undoneAt: registry.now(),
    action: 'import.undo',
  });
}

/** Asks the background again after it gave up on an error: what it had done is found and not repeated. */
export async function resumeImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId } = parseInput(z.object({ importId: z.uuid() }), input);
  const own = await ownImport(registry, actor, importId);
  const kind = JOB_OF_STATE.get(own.report.state);
  if (kind === undefined || (await latestJob(registry.db, kind, importId))?.state !== 'failed') throw moved();
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    await enqueueJob(tx, kind, importId, at);
    await appendAudit(tx, {
      at,
      actorId: own.actor.accountId,
      action: 'import.resume',
      subjectKind: 'import',
      subjectId: importId,
    });
  });
}

async function moveOn(
  registry: Registry,
  actor: Actor,
  importId: string,
  from: ImportState,
  step: {
    report: object;
    mode?: string;
    undoneAt?: Date;
    action: string;
    details?: Record<string, string | number>;
  },
): Promise<void> {
  const { action, details, ...data } = step;
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await updateImport(tx, importId, from, data))) throw moved();
    await enqueueJob(tx, IMPORT_JOB, importId, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action,
      subjectKind: 'import',
      subjectId: importId,
      ...(details ? { details } : {}),
    });
  });
}

function moved(): Conflict {
  return new Conflict('This import has gone on in another window. Reload to see where it stands.');
}
