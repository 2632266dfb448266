import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { NOTICE_MAIL, type NoticeMail, nextWeekly } from '@/lib/mail/noticeLetters';
import { Conflict } from '@/lib/run/errors';
import { dateText } from '@/lib/run/localDate';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { noticeMailOf, setNoticeMail } from '@/lib/store/noticeMail';
import { openToken } from '@/lib/store/tokens';
import type { Registry } from '../registry';
import { hashOfSecret } from './secrets';

export interface NoticeMailView {
  choice: NoticeMail;
  /** Only a proved address is ever written to. */
  isProved: boolean;
  /** The day on which the next weekly letter is due. */
  nextDay: string;
}

export async function readNoticeMail(registry: Registry, actor: Actor | undefined): Promise<NoticeMailView> {
  requireSignedIn(actor);
  const account = await noticeMailOf(registry.db, actor.accountId);
  return {
    choice: account?.noticeMail ?? 'none',
    isProved: account?.email != null && account.emailVerifiedAt !== null,
    nextDay: dateText(nextWeekly(registry.now())),
  };
}

const chooseSchema = z.object({
  choice: z.enum(NOTICE_MAIL, {
    error: 'Nothing is chosen. | Letters go as chosen here. | Choose one of the three.',
  }),
});

/** What the account gets of its notices by letter from now on; what was told before is sent by none. */
export async function chooseNoticeMail(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<NoticeMail> {
  requireSignedIn(actor);
  const { choice } = parseInput(chooseSchema, input);
  const { accountId } = actor;
  await registry.db.$transaction(async (tx) => {
    const before = await noticeMailOf(tx, accountId);
    if (before?.noticeMail === choice) return;
    // From one kind of letter to the other nothing falls in between.
    const at = registry.now();
    const from = choice === 'none' ? null : (before?.noticeMailFrom ?? at);
    const chosen = { noticeMail: choice, noticeMailFrom: from };
    if (!(await choose(tx, accountId, chosen, 'account.chooseLetters', at)))
      throw new Conflict('Your address is not confirmed: letters go to confirmed ones alone.');
  });
  return choice;
}

const secretSchema = z.object({ token: z.string().max(100) });

/** What the link of a letter would end; undefined where it is none of ours or too old. Changes nothing. */
export async function readUnsubscribe(
  registry: Registry,
  input: unknown,
): Promise<{ choice: NoticeMail } | undefined> {
  const accountId = await accountOfLink(registry, input);
  if (accountId === undefined) return undefined;
  const account = await noticeMailOf(registry.db, accountId);
  return account === null ? undefined : { choice: account.noticeMail };
}

/**
 * Ends the letters of whoever was written to, without signing in: by the page's button, or by the one of a mail program.
 * The link of any letter works, and as often as it is used. False where it is none of ours or too old.
 */
export async function unsubscribe(registry: Registry, input: unknown): Promise<boolean> {
  const accountId = await accountOfLink(registry, input);
  if (accountId === undefined) return false;
  await registry.db.$transaction(async (tx) => {
    const before = await noticeMailOf(tx, accountId);
    if (before?.noticeMail === 'none') return;
    const ended = { noticeMail: 'none', noticeMailFrom: null } as const;
    await choose(tx, accountId, ended, 'account.endLetters', registry.now());
  });
  return true;
}

async function accountOfLink(registry: Registry, input: unknown): Promise<string | undefined> {
  const parsed = secretSchema.safeParse(input);
  if (!parsed.success) return undefined;
  const found = await openToken(registry.db, hashOfSecret(parsed.data.token), 'unsubscribe', registry.now());
  return found?.accountId;
}

async function choose(
  tx: Queryable,
  accountId: string,
  chosen: { noticeMail: NoticeMail; noticeMailFrom: Date | null },
  action: 'account.chooseLetters' | 'account.endLetters',
  at: Date,
): Promise<boolean> {
  if (!(await setNoticeMail(tx, accountId, chosen))) return false;
  await appendAudit(tx, { at, actorId: accountId, action, subjectKind: 'account', subjectId: accountId });
  return true;
}
