import { readForm, readMarks } from '@/lib/run/stored';
import type { Queryable } from './database';

/** The latest revision of a run, where no reviewer has decided on it; what it was sent with, to hold a new one against. */
export async function unreviewedRevision(db: Queryable, runId: string) {
  const revision = await db.runRevision.findFirst({
    where: { runId },
    orderBy: { number: 'desc' },
    select: {
      number: true,
      form: true,
      traceId: true,
      protocolVersionId: true,
      inputs: { select: { snapshot: true } },
      evidence: { select: { evidenceId: true, marks: true } },
      findings: { select: { ruleId: true, outcome: true } },
      decisions: { take: 1, select: { id: true } },
    },
  });
  if (revision === null || revision.decisions.length > 0) return undefined;
  const { form, inputs, evidence, ...rest } = revision;
  return {
    ...rest,
    form: readForm(form),
    snapshot: inputs?.snapshot,
    photos: evidence.map(({ evidenceId, marks }) => ({ id: evidenceId, marks: readMarks(marks) })),
  };
}
