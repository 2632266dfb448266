import { createHash } from 'node:crypto';
import { chmod, chown, mkdir, readdir, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { ServerError } from './serverError';
import { canReach, probableServerUser, type ServerUser } from './serverUser';

/**
 * Where the app keeps its data: EVENLOOP_DATA, otherwise `.evenloop` beside the app.
 * A root process whose app lies where the server's user cannot go (a private home) keeps it under
 * /var/lib/evenloop instead, one folder an app.
 */
export function dataFolderFromEnvironment(app = process.cwd()): string {
  const given = process.env.EVENLOOP_DATA;
  if (given) return resolve(given);
  // With a database of the user's own, no server's user has to get in.
  if (process.env.DATABASE_URL || canReach(probableServerUser(), app)) return join(app, '.evenloop');
  const mark = createHash('sha256').update(app).digest('hex').slice(0, 8);
  return join('/var/lib/evenloop', `${basename(app)}-${mark}`);
}

/** Makes the data folder (mode 0700, owned by the server's user) and gives its real path. */
export async function prepareDataFolder(folder: string, user: ServerUser | undefined): Promise<string> {
  try {
    // The folders above are made passable: only the last one is private.
    await mkdir(dirname(folder), { recursive: true });
    await mkdir(folder, { recursive: true, mode: 0o700 });
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new ServerError(`The data folder ${folder} cannot be made: ${reason}. ${remedy}`, { cause: error });
  }
  const path = await realpath(folder);
  await refuseForeign(path);
  const { uid, mode } = await stat(path);
  if (user && uid !== user.uid) await chown(path, user.uid, user.gid);
  if ((mode & 0o777) !== 0o700) {
    await chmod(path, 0o700).catch((error: Error) => {
      throw new ServerError(`The data folder ${path} cannot be made private: ${error.message}. ${remedy}`);
    });
  }
  if (!canReach(user, path)) {
    throw new ServerError(
      `The system user "postgres", under which a root process must run PostgreSQL, cannot reach ${path} ` +
        `(a folder above it is closed to others). ${remedy}`,
    );
  }
  return path;
}

/** Owner and mode of the folder are about to be changed: never do that to somebody else's folder. */
async function refuseForeign(path: string): Promise<void> {
  const entries = await readdir(path);
  // What another process is making aside at this moment has a name of ours and a dot.
  if (entries.length === 0 || entries.some((entry) => ownEntries.has(entry.split('.')[0] ?? ''))) return;
  throw new ServerError(
    `${path} holds other files and is not an Evenloop data folder: set EVENLOOP_DATA to a new or empty folder.`,
  );
}

const ownEntries = new Set(['postgres', 'database-password', 'secret', 'blobs']);

const remedy =
  'Set EVENLOOP_DATA to a folder that can be reached, for example /var/lib/evenloop, ' +
  'or give a PostgreSQL of your own in DATABASE_URL.';
