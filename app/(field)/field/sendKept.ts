import type { RunForm } from '@/lib/run/runForm';
import type { FieldDay } from './fieldDay';
import type { FieldPhoto } from './fieldRun';
import type { KeptForm, ServerOf } from './keptForm';
import { changeDay, changePhoto, daysOf, type Phone, photosOf, runsOf } from './phone';
import { DAY_PLACE, runPlace, type SendPlace } from './sendPlaces';
import { nextOfDay, nextSend } from './sendPlan';

/** How a round of sending ended: everything on its way was answered, the line broke, or nobody is signed in. */
export type Round = 'done' | 'offline' | 'signedOut';

type Answer = { status: number; body: Record<string, unknown> };

/**
 * Sends everything that waits for this account: what the days say, then run by run, since a run is opened on the sheet
 * of its day. It never throws over the network.
 */
export async function sendKept(phone: Phone, accountId: string, send: typeof fetch): Promise<Round> {
  for (const { key } of await daysOf(phone, accountId)) {
    const round = await untilSent(() => sendDay(phone, key, send));
    if (round !== 'done') return round;
  }
  for (const { key } of await runsOf(phone, accountId)) {
    const round = await untilSent(() => sendRun(phone, key, send));
    if (round !== 'done') return round;
  }
  return 'done';
}

/** Step by step until nothing is left to send; none where a step had nothing. */
async function untilSent(step: () => Promise<Round | undefined>): Promise<Round> {
  for (;;) {
    const round = await step();
    if (round !== 'done') return round ?? 'done';
  }
}

async function sendDay(phone: Phone, key: string, send: typeof fetch): Promise<Round | undefined> {
  const day = await phone.get('days', key);
  const next = day === undefined ? 'nothing' : nextOfDay(day);
  return day === undefined || next === 'nothing' ? undefined : sendForm(phone, DAY_PLACE, day, send);
}

async function sendRun(phone: Phone, key: string, send: typeof fetch): Promise<Round | undefined> {
  const run = await phone.get('runs', key);
  if (run === undefined) return undefined;
  const next = nextSend(run, await photosOf(phone, key));
  if (next.kind === 'nothing') return undefined;
  if (next.kind === 'photo') return sendPhoto(phone, next.runId, next.photo, send);
  const dayOf = async () => (run.dayKey === undefined ? undefined : phone.get('days', run.dayKey));
  const before = await dayOf();
  // What the day asks is asked once, not again by each of its runs.
  if (before?.conflict !== undefined) return undefined;
  if (next.kind === 'open' && run.underway === undefined && before?.server !== undefined) {
    const round = await lookUpDay(phone, before, before.server, send);
    if (round !== 'done') return round;
  }
  const [day, now] = [await dayOf(), await phone.get('runs', key)];
  if (now === undefined || day?.conflict !== undefined) return undefined;
  return sendForm(phone, runPlace(day), now, send);
}

/** What the day says by now, before a run that was begun with what the phone knew of it is opened there. */
async function lookUpDay(
  phone: Phone,
  day: FieldDay,
  server: ServerOf<FieldDay>,
  send: typeof fetch,
): Promise<Round> {
  const answer = await ask(send, DAY_PLACE.heldAt(server), {});
  const held = heldIn(DAY_PLACE, answer);
  if (held === undefined) return lineBroken(answer) ?? 'done';
  await changeDay(phone, day.key, (now) =>
    now.conflict === undefined && held.server.version > (now.server?.version ?? 0)
      ? DAY_PLACE.take(now, held)
      : now,
  );
  return 'done';
}

/** Sends what was typed; where the server holds something newer, what it holds comes back and is brought together. */
async function sendForm<Kept extends KeptForm>(
  phone: Phone,
  place: SendPlace<Kept>,
  kept: Kept,
  send: typeof fetch,
): Promise<Round> {
  const form = kept.underway ?? filled(kept.form);
  // Noted before it leaves: should the answer get lost, what the server holds is recognised as ours.
  await place.change(phone, kept.key, (now) => ({ ...now, underway: form }));
  const server = kept.server as ServerOf<Kept> | undefined;
  return server === undefined
    ? takeAnswer(phone, place, kept, form, await askJson(send, 'POST', place.open(kept, form)))
    : saveForm(phone, place, { kept, server }, form, send);
}

async function saveForm<Kept extends KeptForm>(
  phone: Phone,
  place: SendPlace<Kept>,
  { kept, server }: { kept: Kept; server: ServerOf<Kept> },
  form: RunForm,
  send: typeof fetch,
): Promise<Round> {
  const answer = await askJson(send, 'PUT', place.save(server, form));
  const version = answer?.body[place.versionName];
  if (answer?.status === 200 && typeof version === 'number') {
    await place.change(phone, kept.key, (now) => ({
      ...now,
      underway: undefined,
      refusal: undefined,
      ...(now.server && { server: { ...now.server, version, form } }),
    }));
    return 'done';
  }
  if (answer?.status !== 409) return refusedOr(phone, place, kept, form, answer);
  return takeAnswer(phone, place, kept, form, await ask(send, place.heldAt(server), {}));
}

async function takeAnswer<Kept extends KeptForm>(
  phone: Phone,
  place: SendPlace<Kept>,
  kept: Kept,
  form: RunForm,
  answer: Answer | undefined,
): Promise<Round> {
  const held = heldIn(place, answer);
  if (held === undefined) return refusedOr(phone, place, kept, form, answer);
  await place.change(phone, kept.key, (now) => place.take(now, held));
  return 'done';
}

function heldIn<Kept extends KeptForm>(place: SendPlace<Kept>, answer: Answer | undefined) {
  return answer !== undefined && answer.status < 300 ? place.heldIn(answer.body) : undefined;
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

async function refusedOr<Kept extends KeptForm>(
  phone: Phone,
  place: SendPlace<Kept>,
  kept: Kept,
  form: RunForm,
  answer: Answer | undefined,
): Promise<Round> {
  const broken = lineBroken(answer);
  if (broken !== undefined) return broken;
  const refusal = { message: messageOf(answer), form };
  await place.change(phone, kept.key, (now) => ({ ...now, underway: undefined, refusal }));
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

function askJson(
  send: typeof fetch,
  method: string,
  { href, body }: { href: string; body: object },
): Promise<Answer | undefined> {
  const headers = { 'Content-Type': 'application/json' };
  return ask(send, href, { method, headers, body: JSON.stringify(body) });
}

function messageOf(answer: Answer | undefined): string {
  const issues: unknown = answer?.body.issues;
  const first: unknown = Array.isArray(issues) ? issues[0] : undefined;
  if (typeof first === 'object' && first !== null && 'what' in first && typeof first.what === 'string')
    return first.what;
  return typeof answer?.body.title === 'string' ? answer.body.title : 'The server refused it.';
}

/** Empty fields are not sent, as the form on a desktop does not send them. */
function filled(form: RunForm): RunForm {
  return Object.fromEntries(Object.entries(form).filter(([, value]) => value !== ''));
}
