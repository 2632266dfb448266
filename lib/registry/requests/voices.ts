import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { refuseSuspended } from '@/lib/access/suspension';
import { Conflict, NotFound, TooSoon } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { insertNotification } from '@/lib/store/notices';
import {
  askedSince,
  deleteBacking,
  hideRequestRow,
  insertBacking,
  moveRequest,
  requestById,
  requestOfStudy,
  type StoredRequest,
} from '@/lib/store/testRequests';
import { requestStateAfter, requestStateBefore } from '@/lib/study/requestState';
import type { StudyEvent } from '@/lib/study/studyState';
import type { Registry } from '../registry';

/** Voices that one account may give within 24 hours. Own judgement: whoever wants everything asks for nothing. */
const VOICES_A_DAY = 40;
const DAY_MS = 24 * 60 * 60 * 1000;

const backSchema = z.object({ requestId: z.uuid(), wants: z.enum(['back', 'unback']) });
const closeSchema = z.object({ requestId: z.uuid() });
const hideSchema = z.object({
  requestId: z.uuid(),
  reason: z
    .string()
    .trim()
    .min(10, 'The reason is too short. | It stands in the log. | Say why it is hidden.')
    .max(1000, 'The reason is too long. | It stands in the log. | Use at most 1000 characters.'),
});

/** Gives a voice to what somebody asks for, or takes it back: one an account. */
export async function backRequest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'askForTest');
  refuseSuspended(actor, 'askForTest');
  const { requestId, wants } = parseInput(backSchema, input);
  await registry.db.$transaction(async (tx) => {
    const request = await shown(tx, requestId);
    authorise(actor, 'askForTest', undefined, worldKey(request.world));
    if (request.state !== 'open' && request.state !== 'taken')
      throw new Conflict('This request is over: it takes no more votes.');
    const at = registry.now();
    const { accountId } = actor;
    const { voices } = await askedSince(tx, accountId, new Date(at.getTime() - DAY_MS));
    if (wants === 'back' && voices >= VOICES_A_DAY) throw tooMany();
    const changed =
      wants === 'back'
        ? await insertBacking(tx, { requestId, accountId, backedAt: at })
        : await deleteBacking(tx, { requestId, accountId });
    if (!changed) return;
    await told(tx, `request.${wants}`, accountId, requestId, at);
  });
}

/** Takes one's own request back, while nobody drives it. */
export async function closeRequest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'askForTest');
  const { requestId } = parseInput(closeSchema, input);
  await registry.db.$transaction(async (tx) => {
    const request = await shown(tx, requestId);
    authorise(actor, 'closeRequest', request.askedById, worldKey(request.world));
    const at = registry.now();
    if (!(await moveRequest(tx, requestId, requestStateBefore('close'), { state: 'closed', movedAt: at })))
      throw new Conflict('This request is driven by now, or over.');
    await told(tx, 'request.close', actor.accountId, requestId, at);
  });
}

/** Takes a request out of every list, with a reason in the log; whoever asked is told. */
export async function hideRequest(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'hideRequest');
  const { requestId, reason } = parseInput(hideSchema, input);
  await registry.db.$transaction(async (tx) => {
    const request = await shown(tx, requestId);
    authorise(actor, 'hideRequest', undefined, worldKey(request.world));
    const at = registry.now();
    const hidden = { hiddenAt: at, hiddenReason: reason, hiddenById: actor.accountId };
    if (!(await hideRequestRow(tx, requestId, hidden))) throw new Conflict('It is hidden already.');
    await insertNotification(tx, {
      accountId: request.askedById,
      runId: null,
      kind: 'request.hide',
      text: `A steward hid your request “${request.question}”: ${reason}`,
      href: '/requests',
      createdAt: at,
    });
    await told(tx, 'request.hide', actor.accountId, requestId, at, { reason });
  });
}

/** Whether a request went along with a study: it moved, another study of it runs, or it has none or is over. */
type Followed = 'moved' | 'elsewhere' | 'left';

/**
 * In the transaction that moves a study: what it was planned from goes along where it is this study's. Those whom it
 * concerns are told with the study (studies/tellOfStudy.ts).
 */
export async function followStudy(
  tx: Queryable,
  studyId: string,
  event: StudyEvent,
  by: { accountId: string; at: Date },
): Promise<Followed> {
  const request = await requestOfStudy(tx, studyId);
  if (request === null) return 'left';
  if (request.isDrivenElsewhere) return 'elsewhere';
  const state = requestStateAfter(request.state, event);
  if (state === undefined) return 'left';
  if (!(await moveRequest(tx, request.id, request.state, { state, movedAt: by.at }))) return 'left';
  await told(tx, `request.${event}`, by.accountId, request.id, by.at);
  return 'moved';
}

async function shown(db: Queryable, requestId: string): Promise<StoredRequest> {
  const request = await requestById(db, requestId);
  if (request === null || request.hiddenAt !== null) throw new NotFound('This request does not exist.');
  return request;
}

async function told(
  tx: Queryable,
  action: string,
  actorId: string,
  requestId: string,
  at: Date,
  details: Record<string, string> = {},
): Promise<void> {
  await appendAudit(tx, {
    at,
    actorId,
    action,
    subjectKind: 'request',
    subjectId: requestId,
    details,
  });
}

function tooMany(): TooSoon {
  return new TooSoon(DAY_MS / 1000, {
    path: '',
    what: `You have backed ${VOICES_A_DAY} requests within a day, as many as you may.`,
    why: 'A vote for everything says nothing.',
    fix: 'Back others tomorrow.',
  });
}
