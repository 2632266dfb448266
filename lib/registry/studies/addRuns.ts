import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotAllowed, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { drivesIn, lockStudy, studyById } from '@/lib/store/studies';
import { daysThatFit, insertStudyRuns, openStudiesOf, studyBegunFor } from '@/lib/store/studyRuns';
import { chosenOf } from '@/lib/study/nextToDrive';
import { type StudyPlan, setupsOfPlan } from '@/lib/study/plan';
import type { Registry } from '../registry';
import { move } from './moveStudy';

/** A run as it is sent in. */
export interface SentRun {
  runId: string;
  world: WorldKey;
  setupId: string;
  loopId: string;
  cruiseClassKey: string;
}

/** Whether a run is what a plan is about; its place in the order is another matter, and marked. */
function fits(plan: StudyPlan, run: SentRun): boolean {
  return (
    plan.cruiseClassKey === run.cruiseClassKey &&
    plan.loopId === run.loopId &&
    setupsOfPlan(plan).includes(run.setupId)
  );
}

/**
 * In the transaction that sends a run in for the first time: it belongs to the study that its tester drives in, where it
 * fits the plan: of several the one whose button began it, else the earliest. Nobody chooses which runs do, so that none
 * is left out for its result. The first run of a draft of the tester's own fixes the plan.
 */
export async function joinOpenStudy(tx: Queryable, run: SentRun, actor: Actor, at: Date): Promise<void> {
  const open = await openStudiesOf(tx, actor.accountId, run.world);
  const fitting = open.filter(
    ({ plan, state, ownerId }) => fits(plan, run) && (state === 'running' || ownerId === actor.accountId),
  );
  const begunFor = fitting.length > 1 ? await studyBegunFor(tx, run.runId) : undefined;
  const study = chosenOf(fitting, ({ id }) => id, begunFor);
  if (study === undefined) return;
  await lockStudy(tx, study.id);
  // Begun or ended by its owner a moment ago: what it is by now decides.
  const now = await studyById(tx, study.id);
  if (now === null || (now.state !== 'draft' && now.state !== 'running')) return;
  if (now.state === 'draft') await move(tx, now, 'begin', { by: actor, at });
  await add(
    tx,
    { studyId: study.id, version: now.version, runIds: [run.runId], wasChosen: false },
    actor,
    at,
  );
}

const addSchema = z.object({ studyId: z.uuid(), sessionId: z.uuid() });

/**
 * Adds a day of one's own that was sent in before one took part: all of its runs that fit, since a choice among them
 * could be a choice by their results. They stay marked as added by hand.
 */
export async function addDayToStudy(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ runs: number }> {
  authorise(actor, 'planStudy');
  const { studyId, sessionId } = parseInput(addSchema, input);
  const study = await studyById(registry.db, studyId);
  if (study === null) throw new NotFound('This study does not exist.');
  authorise(actor, 'planStudy', study.ownerId, worldKey(study.world));
  if (!(await drivesIn(registry.db, studyId, actor.accountId)))
    throw new NotAllowed('Only those who drive in a study add runs to it. Join it first.', true);
  const at = registry.now();
  return registry.db.$transaction(async (tx) => {
    await lockStudy(tx, studyId);
    const now = await studyById(tx, studyId);
    if (now?.state !== 'running' || now.plan === undefined)
      throw new Conflict('Runs are added to a study while it is running.');
    const day = (await fittingDays(tx, { ...now, plan: now.plan }, actor.accountId)).find(
      (one) => one.sessionId === sessionId,
    );
    if (day === undefined)
      throw new Conflict('This day has no run that fits the plan and is not in a study already.');
    const of = { studyId, version: now.version, runIds: day.runIds, wasChosen: true };
    return { runs: await add(tx, of, actor, at) };
  });
}

/** Days of a tester that could be added by hand. */
export function fittingDays(
  db: Queryable,
  study: { plan: StudyPlan; world: string; createdAt: Date },
  testerId: string,
) {
  return daysThatFit(db, {
    testerId,
    world: worldKey(study.world),
    cruiseClassKey: study.plan.cruiseClassKey,
    setupIds: setupsOfPlan(study.plan),
    since: study.createdAt,
  });
}

async function add(
  tx: Queryable,
  of: { studyId: string; version: number; runIds: readonly string[]; wasChosen: boolean },
  actor: Actor,
  at: Date,
): Promise<number> {
  const { studyId, version, runIds, wasChosen } = of;
  const added = await insertStudyRuns(
    tx,
    runIds.map((runId) => ({
      runId,
      studyId,
      version,
      wasChosen,
      addedAt: at,
      addedById: actor.accountId,
    })),
  );
  if (added === 0) return 0;
  await appendAudit(tx, {
    at,
    actorId: actor.accountId,
    action: 'study.addRuns',
    subjectKind: 'study',
    subjectId: studyId,
    details: { runs: added, byHand: wasChosen },
  });
  return added;
}
