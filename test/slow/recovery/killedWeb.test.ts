import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { clusterFolder } from '@/lib/store/server/cluster';
import { servesCluster } from '@/lib/store/server/postmaster';
import { type FilledApp, filledApp, MINUTE_MS } from './filledApp';
import { comesBackInMidWork } from './killsInMidWork';
import { waitFor } from './startedApp';

let app: FilledApp;
beforeAll(async () => {
  app = await filledApp();
}, 400_000);
afterAll(() => app?.stop(), MINUTE_MS);

describe('killing the web process', () => {
  comesBackInMidWork(
    () => app,
    async ({ partPid }) => partPid('web.mjs'),
  );
});

describe('a web process that no longer answers', () => {
  it('is ended and started again', async () => {
    const frozen = app.partPid('web.mjs');
    process.kill(frozen, 'SIGSTOP');
    await waitFor('another web process', 90_000, async () => app.partPid('web.mjs') !== frozen);
    await waitFor('it to answer', MINUTE_MS, app.isLive);
    expect(app.said()).toContain('does not answer any more');
  });
});

describe('the whole', () => {
  it('ends on one signal, with nothing left behind', async () => {
    const parts = [app.partPid('web.mjs'), app.partPid('worker.ts')];
    const postmaster = await app.postmasterPid();
    expect(await app.stop()).toBe(0);
    for (const pid of parts) expect(() => process.kill(pid, 0)).toThrow();
    // Asked by its command line: where nobody collects orphans, an ended server keeps its number.
    expect(servesCluster(postmaster, clusterFolder(app.dataFolder))).toBe(false);
  });
});
