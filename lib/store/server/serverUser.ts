import { spawnSync } from 'node:child_process';
import { ServerError } from './serverError';

/** The system user the server's processes run under; undefined means "the user we are". */
export type ServerUser = { readonly uid: number; readonly gid: number };

const userName = 'postgres';

/**
 * PostgreSQL refuses to run as root (https://www.postgresql.org/docs/18/postgres-user.html),
 * so a root process runs it under the system user `postgres`, made when missing.
 */
export function serverUser(): ServerUser | undefined {
  if (process.getuid?.() !== 0) return undefined;
  return lookUp() ?? create();
}

/** The same without making anything on the system: where the user is not there yet, the least of users. */
export function probableServerUser(): ServerUser | undefined {
  if (process.getuid?.() !== 0) return undefined;
  return lookUp() ?? nobody;
}

const nobody: ServerUser = { uid: 65_534, gid: 65_534 };

function lookUp(): ServerUser | undefined {
  const [uid, gid] = ['-u', '-g'].map((flag) => spawnSync('id', [flag, userName], { encoding: 'utf8' }));
  if (uid?.status !== 0 || gid?.status !== 0) return undefined;
  return { uid: Number(uid.stdout), gid: Number(gid.stdout) };
}

function create(): ServerUser {
  const made = spawnSync('useradd', ['--system', '--user-group', '--no-create-home', userName], {
    encoding: 'utf8',
  });
  // Two processes may have tried at once: what counts is that the user is there now.
  const user = lookUp();
  if (user) return user;
  throw new ServerError(
    `PostgreSQL does not run as root, and the system user "${userName}" could not be made ` +
      `(${made.error?.message ?? made.stderr.trim()}). Run the app as an ordinary user, or make that user first.`,
  );
}

/** Whether the server's user may pass to (and list or execute) a path; true when it is ourselves. */
export function canReach(user: ServerUser | undefined, path: string): boolean {
  if (!user) return true;
  return spawnSync('test', ['-x', path], { ...user, cwd: '/' }).status === 0;
}
