import type pg from 'pg';
import type { WorldKey } from '@/lib/run/world';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sealKey } from '@/lib/store/server/keptSecret';
import { methodInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';
import { chosenLicence } from './licence';
import type { SnapshotSource } from './writeSnapshot';

/** What a snapshot of this registry is written with: its method, its licence and its key. */
export async function snapshotSource(
  registry: Registry,
  world: WorldKey,
  connection: pg.ClientConfig,
): Promise<SnapshotSource> {
  const [method, licence, privateKey] = await Promise.all([
    methodInEffect(registry.db, world),
    chosenLicence(registry.db),
    sealKey(dataFolderFromEnvironment()),
  ]);
  return { connection, world, method, licence, privateKey };
}
