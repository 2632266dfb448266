import { generateKeyPairSync } from 'node:crypto';
import { join } from 'node:path';
import type pg from 'pg';
import { expect, it } from 'vitest';
import { DEFAULT_LICENCE } from '@/lib/openData/licences';
import { methodInEffect } from '@/lib/registry/method/methodInEffect';
import { verifySnapshot } from '@/lib/registry/openData/verifySnapshot';
import { writeSnapshot } from '@/lib/registry/openData/writeSnapshot';
import type { Registry } from '@/lib/registry/registry';
import { DEMO } from '@/lib/run/world';

interface Known {
  registry: Registry;
  connection: pg.ClientConfig;
  folder: string;
}

/** What is published of the whole demo world, taken away and computed again. */
export function itSnapshots(of: () => Known): void {
  it('is what its runs say, by a snapshot that was taken away', async () => {
    const { registry, connection, folder } = of();
    const file = join(folder, 'demo.zip');
    const written = await writeSnapshot(
      {
        connection,
        world: DEMO,
        method: await methodInEffect(registry.db, DEMO),
        licence: DEFAULT_LICENCE,
        privateKey: generateKeyPairSync('ed25519').privateKey,
      },
      file,
    );
    expect(written.rows.runs).toBeGreaterThan(300);
    expect(written.rows.recordings).toBeGreaterThan(0);
    const { differences, notRecomputed, runs } = await verifySnapshot(file);
    expect(differences).toEqual([]);
    expect(notRecomputed).toBeUndefined();
    expect(runs).toBe(written.rows.runs);
  });
}
