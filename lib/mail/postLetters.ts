import { setTimeout as delay } from 'node:timers/promises';
import type { Letter } from './letter';
import type { OutboxFolder, WaitingLetter } from './outboxFolder';

/** Longer than any secret in a letter works. */
const FORGOTTEN_MS = 7 * 24 * 60 * 60 * 1000;
const LOOK_MS = 2_000;
/** How often one that only waits is asked whether it still may leave. */
const ASK_AGAIN_MS = 60 * 60 * 1000;
const LONGEST_WAIT_MS = 60 * 60 * 1000;

/** After the first failure a minute, then 2, 4 and so on up to an hour. Common practice, no source. */
function waitMs({ tries }: WaitingLetter): number {
  return Math.min(LONGEST_WAIT_MS, 60_000 * 2 ** tries);
}

/** How letters leave, where a mail server is set, and which of them still may. */
export interface Post {
  send: ((letter: Letter) => Promise<void>) | undefined;
  /** Not, for example, to whoever ended such letters or was erased since it was written. */
  isWanted: (letter: Letter) => Promise<boolean>;
}

/**
 * One round: sends what is due, oldest first, and forgets what is too old to be of use or not wanted any more. Without
 * `send` the rest waits. `askedAt` keeps between rounds when each that waits was last asked: whether one is wanted is
 * looked up in the record, before it leaves and seldom otherwise.
 */
export async function postDue(
  outbox: OutboxFolder,
  { send, isWanted }: Post,
  now: () => Date,
  askedAt: Map<string, number> = new Map(),
): Promise<void> {
  const { letters } = await outbox.waiting();
  const names = new Set(letters.map(({ name }) => name));
  for (const name of askedAt.keys()) if (!names.has(name)) askedAt.delete(name);
  for (const letter of letters) {
    const at = now().getTime();
    const isDue = send !== undefined && letter.nextAt.getTime() <= at;
    const isAsked = isDue || at - (askedAt.get(letter.name) ?? Number.NEGATIVE_INFINITY) >= ASK_AGAIN_MS;
    if (isAsked) askedAt.set(letter.name, at);
    const isOld = at - letter.writtenAt.getTime() > FORGOTTEN_MS;
    if (isOld || (isAsked && !(await isWanted(letter)))) await outbox.remove(letter.name);
    else if (isDue) await postOne(outbox, send, letter, now);
  }
}

async function postOne(
  outbox: OutboxFolder,
  send: (letter: Letter) => Promise<void>,
  letter: WaitingLetter,
  now: () => Date,
): Promise<void> {
  try {
    await send(letter);
    await outbox.remove(letter.name);
  } catch (error) {
    const problem = error instanceof Error ? error.message : String(error);
    await outbox.defer(letter, new Date(now().getTime() + waitMs(letter)), problem);
  }
}

/** Rounds until stopped. A round that fails as a whole is reported and tried again. */
export function startPosting(
  outbox: OutboxFolder,
  post: Post,
  report: (error: unknown) => void,
): { stop(): Promise<void> } {
  const stopping = new AbortController();
  const askedAt = new Map<string, number>();
  const rounds = (async () => {
    while (!stopping.signal.aborted) {
      await postDue(outbox, post, () => new Date(), askedAt).catch(report);
      await delay(LOOK_MS, undefined, { signal: stopping.signal }).catch(() => undefined);
    }
  })();
  return {
    stop() {
      stopping.abort();
      return rounds;
    },
  };
}
