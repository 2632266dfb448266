import { statfs } from 'node:fs/promises';
import { oldestDueJob } from '@/lib/store/jobs';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { lastSeenWorker } from '@/lib/store/workers';
import type { Registry } from '../registry';
import { readHome } from './home';

/** One thing that was looked at; where it is not well, in which way. */
export interface Check {
  ok: boolean;
  /** What was found: seconds, megabytes, or a word. */
  found: number | string | null;
}

export interface Readiness {
  /** `unready`: pages cannot be served. `degraded`: they can, but something behind them needs a look. */
  status: 'ready' | 'degraded' | 'unready';
  checks: { page: Check; diskFreeMb: Check; workerSilentSeconds: Check; oldestJobSeconds: Check };
}

/** Each check may take that long; one that does not answer is not well. */
const CHECK_MS = 3_000;
/** Below that, PostgreSQL may soon find no room for its log. Own judgement. */
const LEAST_FREE_MB = 200;
/** Six signs of life missed (lib/jobs/pollJobs.ts). */
const MOST_SILENT_S = 30;
/** A recomputation of everything may keep others waiting for some minutes. Own judgement. */
const MOST_WAITING_S = 900;

/** Whether this process can serve pages (it reads one), and how the work behind them stands. */
export async function readReadiness(
  registry: Registry,
  freeMb: () => Promise<number> = freeMegabytes,
  checkMs = CHECK_MS,
): Promise<Readiness> {
  const now = registry.now().getTime();
  const secondsSince = (at: Date | undefined) =>
    at === undefined ? null : Math.max(0, Math.round((now - at.getTime()) / 1000));
  const [page, diskFreeMb, workerSilentSeconds, oldestJobSeconds] = await Promise.all([
    check(checkMs, async () => {
      await readHome(registry, undefined);
      return { ok: true, found: 'read' };
    }),
    check(checkMs, async () => {
      const found = await freeMb();
      return { ok: found >= LEAST_FREE_MB, found };
    }),
    check(checkMs, async () => {
      const found = secondsSince(await lastSeenWorker(registry.db));
      return { ok: found !== null && found <= MOST_SILENT_S, found };
    }),
    check(checkMs, async () => {
      const found = secondsSince(await oldestDueJob(registry.db, registry.now()));
      return { ok: found === null || found <= MOST_WAITING_S, found };
    }),
  ]);
  const canServe = page.ok && diskFreeMb.ok;
  const isWell = workerSilentSeconds.ok && oldestJobSeconds.ok;
  return {
    status: !canServe ? 'unready' : isWell ? 'ready' : 'degraded',
    checks: { page, diskFreeMb, workerSilentSeconds, oldestJobSeconds },
  };
}

/** Room in the data folder; with a database and a bucket elsewhere, where temporary files of uploads go. */
async function freeMegabytes(): Promise<number> {
  const { bavail, bsize } = await statfs(dataFolderFromEnvironment()).catch(() => statfs(process.cwd()));
  return Math.floor((bavail * bsize) / 2 ** 20);
}

async function check(checkMs: number, look: () => Promise<Check>): Promise<Check> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<Check>((resolve) => {
    timer = setTimeout(() => resolve({ ok: false, found: 'no answer in time' }), checkMs);
  });
  // What went wrong is for the log of who runs the server, not for whoever asks.
  const failed = (): Check => ({ ok: false, found: 'failed' });
  try {
    return await Promise.race([look().catch(failed), late]);
  } finally {
    clearTimeout(timer);
  }
}
