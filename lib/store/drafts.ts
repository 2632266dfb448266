import { dateText } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import { readForm } from '@/lib/run/stored';
import type { Queryable } from './database';

/** A run as its form needs it: what was typed, the last revision and what the reviewer said of it. */
export async function runForForm(db: Queryable, runId: string) {
  const run = await db.run.findUnique({
    where: { id: runId },
    select: {
      id: true,
      number: true,
      testerId: true,
      status: true,
      draft: true,
      draftVersion: true,
      draftSavedAt: true,
      submittedAt: true,
      world: true,
      begunForStudyId: true,
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          number: true,
          form: true,
          decisions: {
            orderBy: { decidedAt: 'desc' },
            take: 1,
            select: {
              kind: true,
              note: true,
              decidedAt: true,
              reasons: { select: { ruleId: true, text: true } },
            },
          },
        },
      },
    },
  });
  return (
    run && {
      ...run,
      draft: readForm(run.draft),
      revisions: run.revisions.map((revision) => ({ ...revision, form: readForm(revision.form) })),
    }
  );
}

/**
 * The forms that a tester filled in last, newest first: units and time zone are taken over from them. Those that an
 * import filled in say nothing of the tester's own display.
 */
export async function latestForms(db: Queryable, testerId: string, exceptRunId?: string): Promise<RunForm[]> {
  const runs = await db.run.findMany({
    where: { testerId, importBatchId: null, ...(exceptRunId ? { id: { not: exceptRunId } } : {}) },
    orderBy: [{ draftSavedAt: 'desc' }, { number: 'desc' }],
    take: 20,
    select: { draft: true },
  });
  return runs.map(({ draft }) => readForm(draft));
}

/** More runs than anybody has noted and not sent. */
const MOST_DRAFTS = 60;

/** A tester's latest drafts, each with the day that it was driven on, or is to be by its sheet. */
export async function draftsToPlace(db: Queryable, testerId: string) {
  const runs = await db.run.findMany({
    where: { testerId, status: 'draft' },
    orderBy: { number: 'desc' },
    take: MOST_DRAFTS,
    select: { number: true, draft: true, begunForStudyId: true, sheet: { select: { localDate: true } } },
  });
  return runs.reverse().map(({ number, draft, begunForStudyId, sheet }) => {
    const form = readForm(draft);
    const typed = form.startedAtLocal?.slice(0, 10) || undefined;
    const day = typed ?? (sheet === null ? undefined : dateText(sheet.localDate));
    return { number, form, day, begunForStudyId: begunForStudyId ?? undefined };
  });
}
