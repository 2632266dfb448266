import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import {
  drivesIn,
  hasCarOf,
  insertStudyTester,
  lockStudy,
  moveStudy,
  type StudyKnown,
  studyById,
} from '@/lib/store/studies';
import { isNews, type StudyNews } from '@/lib/study/studyNews';
import { type StudyEvent, studyStateAfter, studyStatesAllowing } from '@/lib/study/studyState';
import type { Registry } from '../registry';
import { followStudy } from '../requests/voices';
import { tellOfJoining, tellOfStudy } from './tellOfStudy';

const idSchema = z.object({ studyId: z.uuid() });
const abandonSchema = idSchema.extend({
  reason: z
    .string()
    .trim()
    .min(
      10,
      'The reason is too short. | It stays beside the study, which stays listed. | Say why it is given up.',
    )
    .max(1000, 'The reason is too long. | It stays beside the study. | Use at most 1000 characters.'),
});

const TOO_LATE: Readonly<Record<StudyEvent, string>> = {
  begin: 'This study was begun already, or is over.',
  complete: 'This study is not running.',
  abandon: 'This study is over already.',
};

/** Fixes the plan: from here on each change is a version of its own, with a reason. */
export async function beginStudy(registry: Registry, actor: Actor | undefined, input: unknown) {
  const { study, by } = await ownStudy(registry, actor, parseInput(idSchema, input).studyId);
  const at = registry.now();
  await registry.db.$transaction((tx) => move(tx, study, 'begin', { by, at }));
}

/** Ends it: what counts by now, and what still waits for review, is all that it will have. */
export async function completeStudy(registry: Registry, actor: Actor | undefined, input: unknown) {
  const { study, by } = await ownStudy(registry, actor, parseInput(idSchema, input).studyId);
  const at = registry.now();
  await registry.db.$transaction((tx) => move(tx, study, 'complete', { by, at }));
}

/** Gives it up, with a reason; it stays listed with what was driven. */
export async function abandonStudy(registry: Registry, actor: Actor | undefined, input: unknown) {
  const { studyId, reason } = parseInput(abandonSchema, input);
  const { study, by } = await ownStudy(registry, actor, studyId);
  const at = registry.now();
  await registry.db.$transaction((tx) => move(tx, study, 'abandon', { by, at, reason }));
}

/** Takes part with a car of one's own: runs that fit the plan then belong to the study when they are sent in. */
export async function joinStudy(registry: Registry, actor: Actor | undefined, input: unknown) {
  authorise(actor, 'planStudy');
  const study = await known(registry, parseInput(idSchema, input).studyId);
  authorise(actor, 'planStudy', study.ownerId, worldKey(study.world));
  const { accountId } = actor;
  if (await drivesIn(registry.db, study.id, accountId)) return;
  if (!(await hasCarOf(registry.db, accountId, study.modelId)))
    throw new Conflict('You have no car of this study’s model. Add one first.');
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    await lockStudy(tx, study.id);
    if ((await studyById(tx, study.id))?.state !== 'running')
      throw new Conflict('Only a running study can be joined.');
    if (!(await insertStudyTester(tx, { studyId: study.id, accountId, joinedAt: at }))) return;
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action: 'study.join',
      subjectKind: 'study',
      subjectId: study.id,
    });
    await tellOfJoining(tx, study, { accountId, at });
  });
}

/** In the transaction of whatever moves it; a Conflict where it was too late. */
export async function move(
  tx: Queryable,
  study: Pick<StudyKnown, 'id' | 'state'>,
  event: StudyEvent,
  { by, at, reason = '' }: { by: Actor; at: Date; reason?: string },
): Promise<void> {
  const allowed = studyStatesAllowing(event);
  const state = studyStateAfter(study.state, event);
  if (state === undefined) throw new Conflict(TOO_LATE[event]);
  const to = event === 'begin' ? { state, beganAt: at } : { state, endedAt: at, endReason: reason };
  if (!(await moveStudy(tx, study.id, allowed, to))) throw new Conflict(TOO_LATE[event]);
  await appendAudit(tx, {
    at,
    actorId: by.accountId,
    action: `study.${event}`,
    subjectKind: 'study',
    subjectId: study.id,
    details: reason === '' ? {} : { reason },
  });
  const followed = await followStudy(tx, study.id, event, { accountId: by.accountId, at });
  if (isNews(event, study.state === 'draft'))
    await tellOfStudy(tx, study.id, newsOf(event, reason, followed), { accountId: by.accountId, at });
}

function newsOf(
  event: StudyEvent,
  reason: string,
  followed: Awaited<ReturnType<typeof followStudy>>,
): StudyNews {
  if (event === 'abandon') return { event, reason, isAskedAgain: followed === 'moved' };
  return event === 'begin' ? { event, isOneMore: followed === 'elsewhere' } : { event };
}

async function known(registry: Registry, studyId: string): Promise<StudyKnown> {
  const study = await studyById(registry.db, studyId);
  if (study === null) throw new NotFound('This study does not exist.');
  return study;
}

/** The study and whoever may change it. */
async function ownStudy(
  registry: Registry,
  actor: Actor | undefined,
  studyId: string,
): Promise<{ study: StudyKnown; by: Actor }> {
  authorise(actor, 'planStudy');
  const study = await known(registry, studyId);
  authorise(actor, 'changeStudy', study.ownerId, worldKey(study.world));
  return { study, by: actor };
}
