import { randomUUID } from 'node:crypto';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { inTimeOrder, type Offer, offersFrom, otherThanDay, runPart } from '@/lib/run/sessionSheet';
import type { Registry } from '../registry';
import { type FormSubjects, formSubjects } from '../runs/formSubjects';
import { MOST_RUNS, ownSheet } from './ownSheet';
import { seenOf } from './saveSheet';

/** A run as it stands beside the others of its day. */
export interface DayRun {
  runId: string;
  number: number;
  status: RunStatus;
  form: RunForm;
  /** Nothing that a submission needs is missing or wrong. */
  isComplete: boolean;
}

export interface DaySheetView extends FormSubjects {
  sheetId: string;
  localDate: string;
  day: RunForm;
  seen: number;
  /** In the order of their starts. */
  runs: DayRun[];
  /** The draft that is open on the page: its whole form as stored and the part that is its own. */
  open: { runId: string; number: number; form: RunForm; part: RunForm; otherwise: string[] } | undefined;
  /** The study by whose button the open run, or the last one, was begun. */
  begunForStudyId: string | undefined;
  offers: Offer[];
  isFull: boolean;
  /** Made with the page, so that a double press begins one run. */
  nextKey: string;
  now: string;
}

/** Everything that the page of a day shows, with one draft open: the one that is named, else the last begun. */
export async function daySheet(
  registry: Registry,
  actor: Actor | undefined,
  sheetId: string,
  openRunId?: string,
): Promise<DaySheetView> {
  const { actor: owner, sheet, runs: stored } = await ownSheet(registry, actor, sheetId);
  const now = registry.now().toISOString();
  const drafts = stored.filter(({ status }) => status === 'draft');
  const open = drafts.find(({ id }) => id === openRunId) ?? drafts.at(-1);
  const runs = inTimeOrder(stored);
  const at = open === undefined ? -1 : runs.indexOf(open);
  const part = open === undefined ? {} : runPart(open.form, sheet.shared);
  const subjects = await formSubjects(registry, owner.accountId, {
    runId: open?.id,
    form: sheet.shared,
  });
  return {
    sheetId: sheet.id,
    localDate: sheet.localDate,
    day: sheet.shared,
    seen: seenOf(sheet, open),
    runs: runs.map(({ id, number, status, form }) => ({
      runId: id,
      number,
      status,
      form,
      isComplete: parseRunForm(form, { now }).ok,
    })),
    open: open && {
      runId: open.id,
      number: open.number,
      form: open.form,
      part,
      otherwise: otherThanDay(open.form, sheet.shared),
    },
    begunForStudyId: (open ?? stored.at(-1))?.begunForStudyId ?? undefined,
    offers: open === undefined ? [] : offersFrom(runs[at - 1]?.form, part),
    nextKey: randomUUID(),
    isFull: stored.length >= MOST_RUNS,
    ...subjects,
    now,
  };
}
