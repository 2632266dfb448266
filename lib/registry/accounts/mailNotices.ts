import type { HoldingOutbox, Letter } from '@/lib/mail/letter';
import { dueSpan, eachAfter, letterOfNotices, MOST_IN_LETTER, weeklyCut } from '@/lib/mail/noticeLetters';
import { dateText, dayWords } from '@/lib/run/localDate';
import {
  accountsToWriteTo,
  holdToWriteTo,
  isMailedAt,
  markMailed,
  moveNoticeMailFrom,
  type Unsent,
  unsentNotices,
  wantsLetters,
} from '@/lib/store/noticeMail';
import type { Registry } from '../registry';
import { newUnsubscribeSecret } from './secrets';

/** Accounts that are looked at together. */
const BATCH = 100;
/** Letters of one attempt: the next one goes on, an hour later at most. */
const MOST_LETTERS = 5000;

interface Mailer {
  outbox: HoldingOutbox;
  site: string;
}

/**
 * Writes the letters that are due of notices, one an account. A letter is held in the outbox before its notices are
 * marked, and handed over once they are: where this ends in between, the marks say at the next attempt which held
 * letters go and which were never meant. So none is lost and none is written twice.
 */
export async function mailNotices(registry: Registry, mailer: Mailer): Promise<number> {
  await settleHeld(registry, mailer.outbox);
  let written = 0;
  let beyond: string | undefined;
  while (written < MOST_LETTERS) {
    const now = registry.now();
    const of = { weeklyCut: weeklyCut(now), eachAfter: eachAfter(now), beyond };
    const accounts = await accountsToWriteTo(registry.db, of, BATCH);
    for (const { id } of accounts) if (await writeTo(registry, mailer, id)) written += 1;
    beyond = accounts.at(-1)?.id;
    if (accounts.length < BATCH) break;
  }
  return written;
}

/**
 * Whether a letter that waits may still go: one of notices only to the address that it was written to, while its account
 * is not erased or suspended and wants letters. Letters that were asked for by a form go anyway.
 */
export async function isLetterWanted(registry: Registry, { accountId, to }: Letter): Promise<boolean> {
  return accountId === undefined || (await wantsLetters(registry.db, accountId, to));
}

/** What an attempt before left held. */
async function settleHeld(registry: Registry, outbox: HoldingOutbox): Promise<void> {
  for (const held of await outbox.held()) {
    if (await isMailedAt(registry.db, held.noticeId, held.at)) await outbox.handOver(held);
    else await outbox.drop(held);
  }
}

async function writeTo(registry: Registry, { outbox, site }: Mailer, accountId: string): Promise<boolean> {
  const at = registry.now();
  const held = await registry.db.$transaction(async (tx) => {
    const account = await holdToWriteTo(tx, accountId);
    const span = account === null ? undefined : dueSpan(account.noticeMail, account.from, at);
    if (account === null || account.noticeMail === 'none' || span === undefined) return undefined;
    const unsent: Unsent = { accountId, ...span };
    const { notices, total } = await unsentNotices(tx, unsent, MOST_IN_LETTER);
    if (account.noticeMail === 'weekly') await moveNoticeMailFrom(tx, accountId, span.until);
    const [first] = notices;
    if (first === undefined) return undefined;
    const letter = letterOfNotices({
      accountId,
      to: account.email,
      site,
      choice: account.noticeMail,
      notices,
      total,
      days: { first: dayWords(dateText(span.after)), last: dayWords(dateText(span.until)) },
      secret: await newUnsubscribeSecret(tx, accountId, at),
    });
    const of = { at, noticeId: first.id };
    await outbox.hold(letter, of);
    await markMailed(tx, unsent, at);
    return of;
  });
  if (held === undefined) return false;
  await outbox.handOver(held);
  return true;
}
