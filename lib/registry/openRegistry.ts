import { prisma } from '@/lib/store/client';
import { blobStoreFromEnvironment } from './blobStoreFromEnvironment';
import type { Registry } from './registry';

/** The registry of this process: its database, its blobs, the wall clock. */
export function openRegistry(): Registry {
  return {
    db: prisma(),
    blobs: blobStoreFromEnvironment(),
    now: () => new Date(),
    world: 'record',
  };
}
