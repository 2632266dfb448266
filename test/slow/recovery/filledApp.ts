import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';
import { PrismaClient } from '@/prisma/generated/client';
import { approved, loopOf, person, vehicleOf } from '@/test/helpers/smallRegistry';
import { type StartedApp, startedApp, waitFor } from './startedApp';

export const MINUTE_MS = 60_000;

/** `npm start` itself over a small registry with one approved run, whose refit is done. */
export interface FilledApp extends StartedApp {
  readonly tester: Actor;
  readonly steward: Actor;
  readonly names: { readonly car: string; readonly setup: string };
  /** A registry on the app's database, as its pages have one, for as long as the database is there. */
  readonly withRegistry: <Result>(work: (registry: Registry) => Promise<Result>) => Promise<Result>;
  /** The state of the latest job of a kind. */
  readonly latest: (kind: string) => Promise<string | undefined>;
  readonly isLive: () => Promise<boolean>;
  readonly isReady: () => Promise<boolean>;
}

export async function filledApp(): Promise<FilledApp> {
  const app = await startedApp();
  const withRegistry = registryOf(app);
  const latest = async (kind: string) => {
    const rows = await app.query<{ state: string }>(
      `select "state"::text from "Job" where "kind" = $1
        order by "queuedAt" desc, "finishedAt" desc nulls first limit 1`,
      [kind],
    );
    return rows[0]?.state;
  };
  try {
    const filled = await withRegistry(fill);
    await waitFor('the first refit', MINUTE_MS, async () => (await latest('refit')) === 'done');
    return {
      ...app,
      ...filled,
      withRegistry,
      latest,
      isLive: async () => (await fetch(`${app.address}/api/health/live`)).ok,
      isReady: async () => {
        const answer = await fetch(`${app.address}/api/health/ready`);
        return ((await answer.json()) as { status: string }).status === 'ready';
      },
    };
  } catch (error) {
    await app.stop();
    throw error;
  }
}

function registryOf(app: StartedApp): FilledApp['withRegistry'] {
  return async (work) => {
    const db = new PrismaClient({
      adapter: new PrismaPg({ host: app.dataFolder, user: 'evenloop', database: 'evenloop' }),
    });
    try {
      const blobs = folderBlobStore(join(app.dataFolder, 'blobs'));
      return await work({ db, blobs, now: () => new Date(), world: 'record' });
    } finally {
      await db.$disconnect();
    }
  };
}

async function fill(registry: Registry): Promise<Pick<FilledApp, 'tester' | 'steward' | 'names'>> {
  const tester = await person(registry, 'Sanne Ruud');
  const reviewer = await person(registry, 'Odd Brenn', 'reviewer');
  const steward = await person(registry, 'Liv Storm', 'steward');
  const { carId, baselineId: setupId } = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  await approved(registry, tester, reviewer, { carId, setupId, loopId });
  const car = await registry.db.car.findUniqueOrThrow({ where: { id: carId } });
  const setup = await registry.db.setup.findUniqueOrThrow({ where: { id: setupId } });
  return { tester, steward, names: { car: car.name, setup: setup.title } };
}
