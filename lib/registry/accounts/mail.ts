import { authorise } from '@/lib/access/authorise';
import type { HoldingOutbox, Outbox } from '@/lib/mail/letter';
import { outboxIn } from '@/lib/mail/outboxFolder';
import { smtpFromEnvironment } from '@/lib/mail/smtp';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { recordPrivateRead } from '../audit/recordAct';
import type { Registry } from '../registry';

/** What writing to people takes: where letters go, and the site's own address for the links in them. */
export interface Mail {
  outbox: Outbox;
  site: string;
}

/** Letters wait in the data folder; the address is the one that this process was started with. */
export function mailFromEnvironment(): Mail & { outbox: HoldingOutbox } {
  return {
    outbox: outboxIn(dataFolderFromEnvironment()),
    site: process.env.NEXTAUTH_URL ?? 'http://localhost:3000',
  };
}

export interface LettersView {
  /** Whether a mail server is set; without one all letters wait. */
  isSent: boolean;
  total: number;
  rows: { name: string; to: string; subject: string; writtenAt: string; tries: number; problem: string }[];
}

/** Letters that were not sent, for stewards: to whom and why, never what they say, as that opens accounts. */
export async function readLetters(
  registry: Registry,
  actor: Actor | undefined,
  folder = dataFolderFromEnvironment(),
): Promise<LettersView> {
  authorise(actor, 'manageRoles', undefined, RECORD);
  await recordPrivateRead(registry, actor, { kind: 'list', id: 'letters' });
  const { letters, total } = await outboxIn(folder).waiting();
  return {
    isSent: smtpFromEnvironment() !== undefined,
    total,
    rows: letters.map(({ name, to, subject, writtenAt, tries, problem }) => ({
      name,
      to,
      subject,
      writtenAt: writtenAt.toISOString(),
      tries,
      problem: problem ?? '',
    })),
  };
}
