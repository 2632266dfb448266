import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { templateHeader } from '@/lib/capture/sheet/writeSheet';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { checkImport } from '@/lib/registry/imports/checkImport';
import { importPage } from '@/lib/registry/imports/importPage';
import { startImport } from '@/lib/registry/imports/startImport';
import { uploadImport } from '@/lib/registry/imports/uploadImport';
import { requestRefit } from '@/lib/registry/rankings/requestRefit';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';
import { clusterFolder } from '@/lib/store/server/cluster';
import { servesCluster } from '@/lib/store/server/postmaster';
import { PrismaClient } from '@/prisma/generated/client';
import { completeForm } from '@/test/helpers/runForms';
import { approved, loopOf, person, vehicleOf } from '@/test/helpers/smallRegistry';
import { type StartedApp, startedApp, waitFor } from './startedApp';

// The whole of `npm start` is killed part by part with SIGKILL, in the middle of its work, and comes back by itself.

const MINUTE_MS = 60_000;
const ROWS = 60;
const VICTIMS = ['worker', 'web process', 'postmaster'] as const;
type Victim = (typeof VICTIMS)[number];

let app: StartedApp;
let tester: Actor;
let steward: Actor;
let names: { car: string; setup: string };

beforeAll(async () => {
  app = await startedApp();
  await withRegistry(async (registry) => {
    tester = await person(registry, 'Sanne Ruud');
    const reviewer = await person(registry, 'Odd Brenn', 'reviewer');
    steward = await person(registry, 'Liv Storm', 'steward');
    const vehicle = await vehicleOf(registry, tester);
    const loopId = await loopOf(registry, tester);
    const { carId, baselineId: setupId } = vehicle;
    await approved(registry, tester, reviewer, { carId, setupId, loopId });
    const car = await registry.db.car.findUniqueOrThrow({ where: { id: carId } });
    const setup = await registry.db.setup.findUniqueOrThrow({ where: { id: setupId } });
    names = { car: car.name, setup: setup.title };
  });
  await waitFor('the first refit', MINUTE_MS, async () => (await latest('refit')) === 'done');
}, 600_000);

afterAll(async () => {
  await app?.stop();
}, 60_000);

/** A registry on the app's database, as its pages have one, for as long as the database is there. */
async function withRegistry<Result>(work: (registry: Registry) => Promise<Result>): Promise<Result> {
  const db = new PrismaClient({
    adapter: new PrismaPg({ host: app.dataFolder, user: 'evenloop', database: 'evenloop' }),
  });
  try {
    const blobs = folderBlobStore(join(app.dataFolder, 'blobs'));
    return await work({ db, blobs, now: () => new Date(), world: 'record' });
  } finally {
    await db.$disconnect();
  }
}

async function kill(victim: Victim): Promise<void> {
  const pid =
    victim === 'postmaster'
      ? await app.postmasterPid()
      : app.partPid(victim === 'worker' ? 'worker.ts' : 'web.mjs');
  process.kill(pid, 'SIGKILL');
}

async function latest(kind: string): Promise<string | undefined> {
  const rows = await app.query<{ state: string }>(
    `select "state"::text from "Job" where "kind" = $1
      order by "queuedAt" desc, "finishedAt" desc nulls first limit 1`,
    [kind],
  );
  return rows[0]?.state;
}

const isLive = async () => (await fetch(`${app.address}/api/health/live`)).ok;
const isReady = async () => {
  const answer = await fetch(`${app.address}/api/health/ready`);
  return ((await answer.json()) as { status: string }).status === 'ready';
};

function sheet(firstDay: number): Uint8Array {
  const columns = IMPORT_FIELDS.filter(
    ({ name }) => !['startDate', 'startTime', 'stationReport'].includes(name),
  );
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const start = Date.UTC(2025, 0, firstDay, 8) + index * 90 * 60_000;
    const cells: Record<string, string> = {
      ...completeForm(),
      carId: names.car,
      setupId: names.setup,
      loopId: 'north causeway',
      cruiseClassKey: '110 km/h',
      startedAtLocal: new Date(start).toISOString().slice(0, 16).replace('T', ' '),
      utcOffsetMin: '+01:00',
      climate: 'On, little to do',
      trueSpeed: '110.2',
      indicatedSpeed: '113',
      outboundDistance: '53.7',
      outboundEnergy: '17.4',
      tripDistance: '107.5',
      tripEnergy: '34.1',
      tripEfficiency: '31.7',
      tripDuration: '61',
      tripMeanSpeed: '106',
    };
    return columns.map(({ name }) => cells[name] ?? '');
  });
  const lines = [templateHeader(columns), ...rows];
  return new TextEncoder().encode(
    lines.map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(',')).join('\r\n'),
  );
}

describe.each(VICTIMS)('killing the %s', (victim) => {
  it('in mid-refit: the refit is done, and pages answer, within a minute', async () => {
    const holder = await app.connect();
    await holder.query('begin');
    // The refit computes, and stands still where it writes.
    await holder.query('lock table "Fit" in share mode');
    await withRegistry((registry) =>
      requestRefit(registry, steward, { cruiseClassKey: 'mph-70', world: 'record' }),
    );
    await waitFor('the refit to write', MINUTE_MS, async () => {
      const waiting = await holder.query(
        `select 1 from pg_locks where not granted and relation = '"Fit"'::regclass`,
      );
      return waiting.rows.length > 0;
    });
    const fits = async () =>
      Number((await app.query<{ n: string }>('select count(*) as n from "Fit"'))[0]?.n);
    const before = await fits();
    await kill(victim);
    const killed = performance.now();
    await holder.query('rollback').catch(() => undefined);
    await holder.end().catch(() => undefined);
    await waitFor('the refit to be done', MINUTE_MS, async () => (await latest('refit')) === 'done');
    await waitFor('the web process to answer', MINUTE_MS, isLive);
    expect(performance.now() - killed).toBeLessThan(MINUTE_MS);
    expect(await fits()).toBe(before + 1);
  });

  it('in mid-import: every row is there once, within a minute', async () => {
    const importId = await withRegistry(async (registry) => {
      const bytes = sheet(1 + 10 * VICTIMS.indexOf(victim));
      const uploaded = await uploadImport(registry, tester, { fileName: `${victim}.csv`, bytes });
      const { report } = await registry.db.importBatch.findUniqueOrThrow({
        where: { id: uploaded.importId },
      });
      const { reading } = report as { reading: unknown };
      await checkImport(registry, tester, { importId: uploaded.importId, reading });
      await waitFor('the check', MINUTE_MS, async () => {
        const { state } = await importPage(registry, tester, uploaded.importId);
        return state === 'checked';
      });
      await startImport(registry, tester, { importId: uploaded.importId, mode: 'all' });
      return uploaded.importId;
    });
    const made = async (): Promise<number> => {
      const rows = await app.query<{ n: string }>(
        `select count(*) as n from "Run" where "importBatchId" = $1 and "status" = 'submitted'`,
        [importId],
      );
      return Number(rows[0]?.n);
    };
    await waitFor('some rows', MINUTE_MS, async () => (await made()) >= 5);
    expect(await made()).toBeLessThan(ROWS);
    await kill(victim);
    const killed = performance.now();
    await waitFor('the import to be done', MINUTE_MS, async () => {
      const [row] = await app.query<{ state: string }>(
        `select "report"->>'state' as "state" from "ImportBatch" where "id" = $1`,
        [importId],
      );
      return row?.state === 'done';
    });
    await waitFor('the web process to answer', MINUTE_MS, isLive);
    expect(performance.now() - killed).toBeLessThan(MINUTE_MS);
    expect(await made()).toBe(ROWS);
    const drafts = await app.query(`select 1 from "Run" where "status" = 'draft'`);
    expect(drafts).toHaveLength(0);
  });
});

describe('a web process that no longer answers', () => {
  it('is ended and started again', async () => {
    const frozen = app.partPid('web.mjs');
    process.kill(frozen, 'SIGSTOP');
    await waitFor('another web process', 90_000, async () => app.partPid('web.mjs') !== frozen);
    await waitFor('it to answer', MINUTE_MS, isLive);
    expect(app.said()).toContain('does not answer any more');
  });
});

describe('the whole', () => {
  it('is ready after all that', async () => {
    await waitFor('everything to be well', MINUTE_MS, isReady);
  });

  it('ends on one signal, with nothing left behind', async () => {
    const parts = [app.partPid('web.mjs'), app.partPid('worker.ts')];
    const postmaster = await app.postmasterPid();
    expect(await app.stop()).toBe(0);
    for (const pid of parts) expect(() => process.kill(pid, 0)).toThrow();
    // Asked by its command line: where nobody collects orphans, an ended server keeps its number.
    expect(servesCluster(postmaster, clusterFolder(app.dataFolder))).toBe(false);
  });
});
