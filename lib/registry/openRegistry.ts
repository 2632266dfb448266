import { join } from 'node:path';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { prisma } from '@/lib/store/client';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import type { Registry } from './registry';

/** The registry of this process: its database, its folder of blobs, the wall clock. */
export function openRegistry(): Registry {
  return {
    db: prisma(),
    blobs: folderBlobStore(join(dataFolderFromEnvironment(), 'blobs')),
    now: () => new Date(),
    isDemo: false,
  };
}
