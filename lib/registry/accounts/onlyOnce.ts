import { randomUUID } from 'node:crypto';
import { Conflict, InvalidInput, TooSoon } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import {
  type Answered,
  countKeptAnswers,
  forgetAnswers,
  freeKey,
  keepAnswer,
  keptAnswer,
  oldestKeptAnswer,
  type RequestKey,
  takeKey,
  takeUpAgain,
} from '@/lib/store/keptAnswers';
import type { Registry } from '../registry';

/** What a program is answered, as it is kept. */
export type GivenAnswer = Answered;

/** For how long the same request under the same key is answered as it was. */
export const KEPT_MS = 24 * 60 * 60 * 1000;

/** Of one account at once: more than a day's runs have requests. */
export const MOST_KEPT = 500;

/** After this a request that gave no answer has broken off: the web server ends one after a minute. */
const BROKEN_OFF_MS = 2 * 60 * 1000;

/** Visible characters, as a header carries them; quoted (RFC 9651, 3.3.3) or not. */
const KEY = /^(?:"([\x21\x23-\x5b\x5d-\x7e]{1,100})"|([\x21\x23-\x7e]{1,100}))$/;

/** The key of an Idempotency-Key header; undefined where there is none. */
export function keyOfHeader(header: string | null): string | undefined {
  if (header === null) return undefined;
  const [, quoted, bare] = KEY.exec(header.trim()) ?? [];
  const key = quoted ?? bare;
  if (key !== undefined) return key;
  throw new InvalidInput([
    {
      path: 'header.Idempotency-Key',
      what: 'This is no key.',
      why: 'A key is 1 to 100 visible characters without spaces or quotes.',
      fix: 'Send one that is new for each thing that is to be done, for example a UUID.',
    },
  ]);
}

/**
 * Does what a program asks for once under its key: sent again, as when the answer got lost, it is answered as it was. A
 * refusal is not kept, as nothing was done. The work is given an id that is the same when it broke off and is taken up
 * again.
 */
export async function onlyOnce(
  registry: Registry,
  { accountId }: Pick<Actor, 'accountId'>,
  asked: { route: string; key: string; requestHash: string },
  work: (id: string) => Promise<Answered>,
): Promise<Answered> {
  const { db } = registry;
  const of: RequestKey = { accountId, route: asked.route, key: asked.key };
  const at = registry.now();
  await forgetAnswers(db, new Date(at.getTime() - KEPT_MS), accountId);
  let id: string = randomUUID();
  const known = await keptAnswer(db, of);
  if (known === null) {
    await boundKeys(registry, accountId, at);
    if (!(await takeKey(db, { ...of, id, requestHash: asked.requestHash, at }))) throw isBeingDone();
  } else {
    if (known.requestHash !== asked.requestHash) throw isAnother();
    const { status, body, location, etag } = known;
    if (status !== null && body !== null) return { status, body, location, etag };
    const isBrokenOff = at.getTime() - known.begunAt.getTime() >= BROKEN_OFF_MS;
    if (!isBrokenOff || !(await takeUpAgain(db, of, known.begunAt, at))) throw isBeingDone();
    id = known.id;
  }
  try {
    const answered = await work(id);
    await keepAnswer(db, of, at, answered);
    return answered;
  } catch (error) {
    await freeKey(db, of, at);
    throw error;
  }
}

async function boundKeys({ db }: Registry, accountId: string, at: Date): Promise<void> {
  if ((await countKeptAnswers(db, accountId)) < MOST_KEPT) return;
  const oldest = (await oldestKeptAnswer(db, accountId)) ?? at;
  const waitS = Math.max(1, Math.ceil((oldest.getTime() + KEPT_MS - at.getTime()) / 1000));
  throw new TooSoon(waitS, {
    path: 'header.Idempotency-Key',
    what: `${MOST_KEPT} keys were used within a day.`,
    why: 'The answer to each is kept for a day, and one account must not fill the disk.',
    fix: 'Wait as long as Retry-After says, or send without a key.',
  });
}

function isBeingDone(): Conflict {
  return new Conflict('The same request is being worked on. Ask again in a moment.');
}

function isAnother(): InvalidInput {
  return new InvalidInput([
    {
      path: 'header.Idempotency-Key',
      what: 'Another request was sent under this key.',
      why: 'A key stands for one thing that is to be done.',
      fix: 'Send the same as before, or take a new key.',
    },
  ]);
}

/** Forgets what nobody may ask for again. */
export async function sweepKeptAnswers(registry: Registry): Promise<void> {
  const before = new Date(registry.now().getTime() - KEPT_MS);
  await registry.db.$transaction((tx) => forgetAnswers(tx, before));
}
