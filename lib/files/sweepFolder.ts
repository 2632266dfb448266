import { mkdir, readdir, rename, stat, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fanOutPath, isSha256, type NamedAmong, type Sha256 } from './blobStore';

/** What a blob is called while it is on its way out. */
const LEAVING = /^leaving-([0-9a-f]{64})$/;

/**
 * Takes files that no row names out of a folder of blobs. One is set aside first and looked at again: what was put, or
 * named, until then goes back, and what is put after that is written anew. Broken off in between, the next sweep finds
 * it set aside and does the same. Files half written go as well once they are as old.
 */
export async function sweepFolder(folder: string, before: Date, namedAmong: NamedAmong): Promise<number> {
  const incoming = join(folder, 'incoming');
  let swept = 0;
  for (const name of await namesIn(incoming)) {
    const digest = LEAVING.exec(name)?.[1];
    if (digest !== undefined && isSha256(digest)) {
      swept += await leave({ folder, digest, before, namedAmong });
    } else if (await isOlder(join(incoming, name), before)) {
      await orNothing(unlink(join(incoming, name)));
    }
  }
  // A 256th of all at a time.
  for (const first of (await namesIn(folder)).filter((name) => /^[0-9a-f]{2}$/.test(name))) {
    const old: Sha256[] = [];
    for (const second of await namesIn(join(folder, first)))
      for (const digest of await namesIn(join(folder, first, second)))
        if (isSha256(digest) && (await isOlder(join(folder, first, second, digest), before)))
          old.push(digest);
    if (old.length === 0) continue;
    const named = await namedAmong(old);
    for (const digest of old.filter((each) => !named.has(each))) {
      await mkdir(incoming, { recursive: true, mode: 0o700 });
      await orNothing(rename(join(folder, fanOutPath(digest)), join(incoming, `leaving-${digest}`)));
      swept += await leave({ folder, digest, before, namedAmong });
    }
  }
  return swept;
}

interface Leaving {
  folder: string;
  digest: Sha256;
  before: Date;
  namedAmong: NamedAmong;
}

/** For good, or back to its place. */
async function leave({ folder, digest, before, namedAmong }: Leaving): Promise<number> {
  const aside = join(folder, 'incoming', `leaving-${digest}`);
  if ((await isOlder(aside, before)) && !(await namedAmong([digest])).has(digest)) {
    await orNothing(unlink(aside));
    return 1;
  }
  const path = join(folder, fanOutPath(digest));
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  // What was put anew meanwhile is the same, byte for byte.
  await orNothing(rename(aside, path));
  return 0;
}

async function isOlder(path: string, before: Date): Promise<boolean> {
  const found = await orNothing(stat(path));
  return found?.isFile() === true && found.mtime < before;
}

async function namesIn(folder: string): Promise<string[]> {
  return (await orNothing(readdir(folder))) ?? [];
}

/** Nothing where somebody else took it away first. */
async function orNothing<T>(promise: Promise<T>): Promise<T | undefined> {
  try {
    return await promise;
  } catch (error) {
    if (error instanceof Error && 'code' in error && (error.code === 'ENOENT' || error.code === 'ENOTDIR'))
      return undefined;
    throw error;
  }
}
