import { lastBackup } from '@/lib/files/lastBackup';
import { smtpFromEnvironment } from '@/lib/mail/smtp';
import { type Actor, atLeast } from '@/lib/run/roles';
import { DEMO, RECORD } from '@/lib/run/world';
import { countOwnReviewers } from '@/lib/store/accounts';
import { hasRunOf } from '@/lib/store/runs';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import type { Registry } from '../registry';

export type StewardTask = 'reviewers' | 'mail' | 'backup' | 'demo';

export type StewardList = readonly { task: StewardTask; isDone: boolean }[];

/** One decides, another one gives the second approval. */
const REVIEWERS = 2;

/** Where the list looks besides the database. */
interface Around {
  dataFolder: string;
  environment: Readonly<Record<string, string | undefined>>;
}

/**
 * What a new registry still needs of its steward; undefined for everybody else, and once all of it is done. The demo
 * world is there to look around in: a record that has runs of its own does not need it.
 */
export async function stewardList(
  registry: Registry,
  actor: Actor | undefined,
  { dataFolder, environment }: Around = {
    dataFolder: dataFolderFromEnvironment(),
    environment: process.env,
  },
): Promise<StewardList | undefined> {
  if (actor === undefined || !atLeast(actor.role, 'steward') || (actor.world ?? RECORD) !== RECORD)
    return undefined;
  const [reviewers, backup, demo, own] = await Promise.all([
    countOwnReviewers(registry.db),
    lastBackup(dataFolder),
    hasRunOf(registry.db, DEMO),
    hasRunOf(registry.db, RECORD),
  ]);
  const list: StewardList = [
    { task: 'reviewers', isDone: reviewers >= REVIEWERS },
    { task: 'mail', isDone: smtpFromEnvironment(environment) !== undefined },
    { task: 'backup', isDone: backup !== undefined },
    { task: 'demo', isDone: demo || own },
  ];
  return list.every(({ isDone }) => isDone) ? undefined : list;
}
