import { readForm } from '@/lib/run/stored';
import type { Queryable } from './database';

/** A run as its tester's program reads it: the draft, what was found of it when it was sent last, and the decision. */
export async function ownRun(db: Queryable, runId: string) {
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
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          number: true,
          protocolVersion: { select: { label: true } },
          findings: {
            select: {
              ruleId: true,
              outcome: true,
              sentence: true,
              protocolVersion: { select: { label: true } },
            },
          },
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
  return run && { ...run, draft: readForm(run.draft) };
}
