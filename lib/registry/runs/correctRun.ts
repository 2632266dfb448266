import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, type InputIssue, InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import type { RunRecord } from '@/lib/run/runRecord';
import { worldKey } from '@/lib/run/world';
import { lockSubject } from '@/lib/store/correctedSubjects';
import type { Database, Queryable } from '@/lib/store/database';
import { countedForm, runIdOf, runState } from '@/lib/store/runs';
import { type Proposed, propose } from '../corrections/propose';
import { correctionReason, oneAtATime } from '../corrections/reason';
import type { Registry } from '../registry';
import { type RecordFormView, recordForm } from './recordForm';

export const correctRunSchema = z.object({ runId: z.uuid(), form: runFormSchema, reason: correctionReason });

/** What makes the run the run that it is: another one of these is another run. */
const KEPT = [
  ['carId', 'The car cannot be corrected.'],
  ['setupId', 'The setup cannot be corrected.'],
  ['loopId', 'The loop cannot be corrected.'],
  ['cruiseClassKey', 'The cruise class cannot be corrected.'],
  ['localDate', 'The day cannot be corrected.'],
] as const satisfies readonly (readonly [keyof RunRecord, string])[];

/**
 * Puts right what was misread or mistyped of an approved run. It goes on counting as it is until a reviewer has approved
 * the correction; car, setup, loop, class and day stay.
 */
export async function correctRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { runId, form, reason } = parseInput(correctRunSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      await lockSubject(tx, 'run', runId);
      const { run, counted } = await requireCounted(tx, actor, runId);
      const now = registry.now().toISOString();
      const [after, before] = [parseRunForm(form, { now }), parseRunForm(counted.form, { now })];
      if (!after.ok) throw new InvalidInput(after.issues);
      if (before.ok) requireSameRun(before.record, after.record);
      return propose(
        tx,
        {
          subjectId: runId,
          world: worldKey(run.world),
          change: { kind: 'run', before: counted.form, after: form },
          reason,
          byId: run.testerId,
          act: { action: 'run.correct', subjectKind: 'run', details: { run: run.number } },
        },
        registry.now(),
      );
    });
  } catch (error) {
    oneAtATime(error);
    throw error;
  }
}

/** The form that counts, for its tester to correct. */
export async function runForCorrection(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
): Promise<RecordFormView> {
  const runId = await runIdOf(registry.db, number);
  if (runId === undefined) throw new NotFound('This run does not exist.');
  const { counted } = await requireCounted(registry.db, actor, runId);
  return { ...(await recordForm(registry, actor, runId)), form: counted.form };
}

async function requireCounted(db: Database | Queryable, actor: Actor | undefined, runId: string) {
  const run = await runState(db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const counted = run.status === 'approved' ? await countedForm(db, runId) : null;
  if (counted === null)
    throw new Conflict(
      'Only an approved run is corrected; one that is not decided yet is taken back and sent again.',
    );
  return { run, counted };
}

function requireSameRun(before: RunRecord, after: RunRecord): void {
  const issues: InputIssue[] = KEPT.filter(([name]) => before[name] !== after[name]).map(([name, what]) => ({
    path: name === 'localDate' ? 'startedAtLocal' : name,
    what,
    why: 'With another one it would be another run.',
    fix: 'Retract the run and record it anew.',
  }));
  if (issues.length > 0) throw new InvalidInput(issues);
}
