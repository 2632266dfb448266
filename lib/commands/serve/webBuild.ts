import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { markCalledOnLoad } from './compileHints';
import { compressBuilt } from './compressBuilt';
import { runProgram } from './program';

/** What the built app is made from; a change in any of it makes the build stale. */
const sources = [
  'app',
  'lib',
  'public',
  'prisma/schema.prisma',
  'next.config.mjs',
  'package-lock.json',
  'tsconfig.json',
];

const commands = join('lib', 'commands');

const stampFile = join('.next', 'evenloop-sources');

/** Whether the build in `.next` is complete and was made from the sources as they are now. */
async function isBuildCurrent(): Promise<boolean> {
  if (!existsSync(join('.next', 'BUILD_ID'))) return false;
  const stamp = await readFile(stampFile, 'utf8').catch(() => '');
  return stamp === (await hashOfSources());
}

/** Builds where the sources have changed since, or nothing is built yet. */
export async function ensureBuilt(signal?: AbortSignal): Promise<void> {
  if (await isBuildCurrent()) return;
  console.log('Building the app (the first time, or its sources have changed) …');
  await buildWeb(signal);
}

/** Makes Prisma's client and Next's build, and notes from which sources. */
export async function buildWeb(signal?: AbortSignal): Promise<void> {
  const hash = await hashOfSources();
  await generateClient(signal);
  await runProgram('node_modules/next/dist/bin/next', ['build'], {}, signal);
  await markCalledOnLoad('.next');
  await compressBuilt('.next');
  await writeFile(stampFile, hash);
}

/**
 * Makes prisma/generated from the schema. Prisma would fetch an engine that making the client does not
 * need; naming any program as that engine keeps it from trying.
 */
export async function generateClient(signal?: AbortSignal): Promise<void> {
  await runProgram(
    'node_modules/prisma/build/index.js',
    ['generate', '--config', 'prisma/prisma.config.ts'],
    {
      PRISMA_SCHEMA_ENGINE_BINARY: '/usr/bin/true',
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
    signal,
  );
}

async function hashOfSources(): Promise<string> {
  const hash = createHash('sha256').update(process.version);
  for (const source of sources) {
    for (const file of await filesUnder(source))
      hash
        .update(file)
        .update('\0')
        .update(await readFile(file));
  }
  return hash.digest('hex');
}

async function filesUnder(path: string): Promise<string[]> {
  const entries = await readdir(path, { recursive: true, withFileTypes: true }).catch(
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOTDIR') return undefined;
      throw error;
    },
  );
  if (!entries) return [path];
  return (
    entries
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      // Commands start the web app; they are no part of it.
      .filter((file) => !file.startsWith(commands))
      .sort()
  );
}
