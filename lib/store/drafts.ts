import type { Queryable } from './database';

/** A run as its form needs it: what was typed, the last revision and what the reviewer said of it. */
export function runForForm(db: Queryable, runId: string) {
  return db.run.findUnique({
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
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          number: true,
          form: true,
          decisions: {
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
}

/** The forms that a tester filled in last, newest first: units and time zone are taken over from them. */
export function latestForms(db: Queryable, testerId: string, exceptRunId?: string) {
  return db.run.findMany({
    where: { testerId, ...(exceptRunId ? { id: { not: exceptRunId } } : {}) },
    orderBy: { draftSavedAt: 'desc' },
    take: 20,
    select: { draft: true },
  });
}
