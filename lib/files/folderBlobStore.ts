import { randomUUID } from 'node:crypto';
import { mkdir, open, readFile, rename, stat, unlink, utimes } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { BlobDamaged, type BlobStore, digestOf, fanOutPath, type Sha256 } from './blobStore';
import { sweepFolder } from './sweepFolder';

/**
 * Blobs as files in a folder. A blob appears under its digest whole or not at all: it is written to a temporary name
 * in the same file system, flushed to the disk and then renamed (rename is atomic: POSIX.1-2017, rename()).
 */
export function folderBlobStore(folder: string): BlobStore {
  const pathOf = (digest: Sha256): string => join(folder, fanOutPath(digest));

  async function has(digest: Sha256): Promise<boolean> {
    return (await orNullWhenAbsent(stat(pathOf(digest)))) !== null;
  }

  return {
    has,

    async put(bytes) {
      const digest = digestOf(bytes);
      // What was there already is as young as what is put: a sweep spares it until a row names it.
      if (await touch(pathOf(digest))) return digest;
      const path = pathOf(digest);
      const incoming = join(folder, 'incoming');
      await mkdir(incoming, { recursive: true, mode: 0o700 });
      await mkdir(dirname(path), { recursive: true, mode: 0o700 });
      const temporary = join(incoming, randomUUID());
      try {
        await writeFlushed(temporary, bytes);
        await rename(temporary, path);
      } catch (error) {
        await orNullWhenAbsent(unlink(temporary));
        throw error;
      }
      await flushFolder(dirname(path));
      return digest;
    },

    async get(digest) {
      const bytes = await orNullWhenAbsent(readFile(pathOf(digest)));
      if (bytes === null) return null;
      if (digestOf(bytes) !== digest) throw new BlobDamaged(digest);
      return bytes;
    },

    async remove(digest) {
      await orNullWhenAbsent(unlink(pathOf(digest)));
    },

    sweep: (before, namedAmong) => sweepFolder(folder, before, namedAmong),
  };
}

/** False where there is no such file. */
async function touch(path: string): Promise<boolean> {
  const now = new Date();
  return (await orNullWhenAbsent(utimes(path, now, now).then(() => true))) ?? false;
}

async function writeFlushed(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, 'wx', 0o600);
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** A rename is safe against a power cut only once the folder is flushed; some platforms cannot open one for that. */
async function flushFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function orNullWhenAbsent<T>(promise: Promise<T>): Promise<T | null> {
  try {
    return await promise;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}
