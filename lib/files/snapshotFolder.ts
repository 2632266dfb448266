import { createReadStream } from 'node:fs';
import { mkdir, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { isSha256, type Sha256 } from './blobStore';

/** Published snapshots lie in one folder, each named by its digest. They may be larger than memory, so they are no blobs. */
export const SNAPSHOT_FOLDER = 'snapshots';
/** Those of other registries, while they wait to be looked at. */
export const INCOMING_SNAPSHOTS = 'other-snapshots';

export interface SnapshotFolder {
  /** A place in it where a file can be written that is not there yet. */
  newFile: () => Promise<string>;
  /** Gives a file of `newFile` the name by which it is found from then on. */
  keep: (file: string, digest: Sha256) => Promise<void>;
  forget: (file: string) => Promise<void>;
  /** Where a file of this digest lies, if it is there. */
  fileOf: (digest: string) => string;
  /** Takes away whatever is older and not to be kept, half-written files as well. */
  sweep: (isKept: (digest: string) => boolean, before: Date) => Promise<void>;
  /** Undefined where it is not there: the folder is another machine's, or was not restored. */
  open: (
    digest: string,
  ) => Promise<{ sizeBytes: number; stream: (atOnceBytes?: number) => Readable } | undefined>;
}

export function snapshotFolder(
  dataFolder: string,
  name: typeof SNAPSHOT_FOLDER | typeof INCOMING_SNAPSHOTS = SNAPSHOT_FOLDER,
): SnapshotFolder {
  // The data folder lies outside the sources: a build that guessed at it would trace the whole project.
  const folder = join(/* turbopackIgnore: true */ dataFolder, name);
  const fileOf = (digest: string) => join(/* turbopackIgnore: true */ folder, `${digest}.zip`);
  return {
    newFile: async () => {
      await mkdir(folder, { recursive: true });
      return join(folder, `${process.pid}-${crypto.randomUUID()}.new`);
    },
    keep: (file, digest) => rename(file, fileOf(digest)),
    forget: (file) => rm(file, { force: true }),
    fileOf,
    sweep: async (isKept, before) => {
      const names = await readdir(/* turbopackIgnore: true */ folder).catch(() => []);
      for (const entry of names) {
        const [digest = ''] = entry.split('.');
        const file = join(/* turbopackIgnore: true */ folder, entry);
        const found = await stat(/* turbopackIgnore: true */ file).catch(() => undefined);
        if (found === undefined || found.mtime >= before || isKept(digest)) continue;
        await rm(file, { force: true });
      }
    },
    open: async (digest) => {
      if (!isSha256(digest)) return undefined;
      const file = fileOf(digest);
      const found = await stat(file).catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return undefined;
        throw error;
      });
      return (
        found && {
          sizeBytes: found.size,
          stream: (highWaterMark) => createReadStream(file, { ...(highWaterMark ? { highWaterMark } : {}) }),
        }
      );
    },
  };
}
