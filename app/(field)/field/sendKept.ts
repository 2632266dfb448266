import type { ServerDraft } from '@/lib/registry/runs/fieldCard';
import { changedElsewhere, type FieldPhoto, type FieldRun, isSameForm, serverHolds } from './fieldRun';
import { changePhoto, changeRun, type Phone, photosOf, runsOf } from './phone';
import { nextSend, type Send } from './sendPlan';

/** How a round of sending ended: everything on its way was answered, the line broke, or nobody is signed in. */
export type Round = 'done' | 'offline' | 'signedOut';

type Answer = { status: number; body: Record<string, unknown> };

/** Sends everything that waits for this account, run by run. It never throws over the network. */
export async function sendKept(phone: Phone, accountId: string, send: typeof fetch): Promise<Round> {
  for (const { key } of await runsOf(phone, accountId)) {
    for (;;) {
      const run = await phone.get('runs', key);
      if (run === undefined) break;
      const next = nextSend(run, await photosOf(phone, key));
      if (next.kind === 'nothing') break;
      const round = await sendOne(phone, run, next, send);
      if (round !== 'done') return round;
    }
  }
  return 'done';
}

async function sendOne(
  phone: Phone,
  run: FieldRun,
  next: Exclude<Send, { kind: 'nothing' }>,
  send: typeof fetch,
): Promise<Round> {
  if (next.kind === 'photo') return sendPhoto(phone, next.runId, next.photo, send);
  const form = run.underway ?? filled(run.form);
  // Noted before it leaves: should the answer get lost, what the server holds is recognised as ours.
  await changeRun(phone, run.key, (now) => ({ ...now, underway: form }));
  return next.kind === 'open' ? openRun(phone, run, form, send) : saveForm(phone, run, next, form, send);
}

async function openRun(
  phone: Phone,
  run: FieldRun,
  form: FieldRun['form'],
  send: typeof fetch,
): Promise<Round> {
  const body = { accountId: run.accountId, creationKey: run.key, form };
  const answer = await ask(send, '/api/field/runs', jsonOf('POST', body));
  const draft = answer && draftIn(answer);
  if (draft === undefined) return refusedOr(phone, run, form, answer);
  await take(phone, run, draft);
  return 'done';
}

async function saveForm(
  phone: Phone,
  run: FieldRun,
  { runId, version }: { runId: string; version: number },
  form: FieldRun['form'],
  send: typeof fetch,
): Promise<Round> {
  const body = { draftVersion: version, form };
  const answer = await ask(send, `/api/runs/${runId}/draft`, jsonOf('PUT', body));
  const saved = answer?.body.draftVersion;
  if (answer?.status === 200 && typeof saved === 'number') {
    await changeRun(phone, run.key, ({ underway: _sent, refusal: _old, ...now }) =>
      now.server === undefined ? now : { ...now, server: { ...now.server, version: saved, form } },
    );
    return 'done';
  }
  if (answer?.status !== 409) return refusedOr(phone, run, form, answer);
  const held = await ask(send, `/api/field/runs/${runId}`, {});
  const draft = held && draftIn(held);
  if (draft === undefined) return refusedOr(phone, run, form, held);
  await take(phone, run, draft);
  return 'done';
}

/**
 * The server tells what it holds. If that is what the phone sent last, an answer had got lost on the way; if it is
 * neither that nor what it held before, somebody changed it elsewhere.
 */
async function take(phone: Phone, run: FieldRun, draft: ServerDraft): Promise<void> {
  await changeRun(phone, run.key, (now) => {
    const { refusal: _old, ...rest } = now;
    const known = [now.underway, now.server?.form].filter((form) => form !== undefined);
    const isOurs = draft.isEditable && known.some((form) => isSameForm(form, draft.form));
    if (isOurs || isSameForm(now.form, draft.form)) return serverHolds(rest, draft);
    // What both came from: what the server last said, for whether the last sending arrived is not known.
    return changedElsewhere(rest, draft, now.server?.form ?? now.underway ?? {});
  });
}

async function sendPhoto(phone: Phone, runId: string, photo: FieldPhoto, send: typeof fetch): Promise<Round> {
  const body = new FormData();
  body.set(`evidence.${photo.kind}`, new Blob([photo.bytes], { type: photo.mediaType }), 'photo.jpg');
  const answer = await ask(send, `/api/runs/${runId}/evidence`, { method: 'POST', body });
  if (answer?.status === 201) {
    await changePhoto(phone, photo.id, { sentAtMs: Date.now() });
    return 'done';
  }
  const broken = lineBroken(answer);
  if (broken !== undefined) return broken;
  await changePhoto(phone, photo.id, { refusal: messageOf(answer) });
  return 'done';
}

async function refusedOr(
  phone: Phone,
  run: FieldRun,
  form: FieldRun['form'],
  answer: Answer | undefined,
): Promise<Round> {
  const broken = lineBroken(answer);
  if (broken !== undefined) return broken;
  const message = messageOf(answer);
  await changeRun(phone, run.key, ({ underway: _sent, ...now }) => ({ ...now, refusal: { message, form } }));
  return 'done';
}

/** No answer, a fault of the server or a page of some portal: later. Not signed in, or as somebody else: by hand. */
function lineBroken(answer: Answer | undefined): Round | undefined {
  if (answer === undefined || answer.status >= 500 || answer.status === 429) return 'offline';
  if (answer.status === 401 || answer.status === 403) return 'signedOut';
  return answer.status < 400 ? 'offline' : undefined;
}

async function ask(send: typeof fetch, address: string, init: RequestInit): Promise<Answer | undefined> {
  try {
    const answer = await send(address, { ...init, headers: { Accept: 'application/json', ...init.headers } });
    const body: unknown = await answer.json();
    return { status: answer.status, body: typeof body === 'object' && body !== null ? { ...body } : {} };
  } catch {
    return undefined;
  }
}

function jsonOf(method: string, body: object): RequestInit {
  return { method, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) };
}

function draftIn({ status, body }: Answer): ServerDraft | undefined {
  const isDraft =
    status < 300 &&
    typeof body.runId === 'string' &&
    typeof body.number === 'number' &&
    typeof body.draftVersion === 'number' &&
    typeof body.form === 'object' &&
    body.form !== null;
  return isDraft ? (body as object as ServerDraft) : undefined;
}

function messageOf(answer: Answer | undefined): string {
  const issues: unknown = answer?.body.issues;
  const first: unknown = Array.isArray(issues) ? issues[0] : undefined;
  if (typeof first === 'object' && first !== null && 'what' in first && typeof first.what === 'string')
    return first.what;
  return typeof answer?.body.title === 'string' ? answer.body.title : 'The server refused it.';
}

/** Empty fields are not sent, as the form on a desktop does not send them. */
function filled(form: FieldRun['form']): FieldRun['form'] {
  return Object.fromEntries(Object.entries(form).filter(([, value]) => value !== ''));
}
