import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serverUser } from '@/lib/store/server/serverUser';

const installed = '/usr/lib/postgresql';

export type PlainServer = { readonly name: string; readonly url: string; readonly stop: () => void };

/**
 * A PostgreSQL as a distribution packages it, for the second pass of the integration tests: the newest one
 * installed, on a throw-away cluster in the temporary folder. Undefined when there is none.
 */
export function startPlainServer(): PlainServer | undefined {
  const version = existsSync(installed)
    ? readdirSync(installed)
        .filter((name) => existsSync(join(installed, name, 'bin', 'initdb')))
        .sort((a, b) => Number(b) - Number(a))[0]
    : undefined;
  if (version === undefined) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'evenloop-plain-'));
  const user = serverUser();
  if (user) chownSync(folder, user.uid, user.gid);
  chmodSync(folder, 0o700);
  const cluster = join(folder, 'cluster');
  const call = (program: string, args: string[]) =>
    spawnSync(join(installed, version, 'bin', program), args, {
      ...user,
      cwd: folder,
      encoding: 'utf8',
      env: { ...process.env, LC_ALL: 'C' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  const remove = () => rmSync(folder, { recursive: true, force: true });
  try {
    check(
      call('initdb', [
        '-D',
        cluster,
        '-U',
        'postgres',
        '-A',
        'trust',
        '-E',
        'UTF8',
        '--locale=C.UTF-8',
        '-N',
      ]),
    );
    const settings = `-c listen_addresses= -c unix_socket_directories=${folder} -c fsync=off -c port=5432`;
    check(call('pg_ctl', ['-D', cluster, '-w', '-l', join(folder, 'log'), '-o', settings, 'start']));
  } catch (error) {
    remove();
    throw error;
  }
  return {
    name: `PostgreSQL ${version} of this system`,
    url: `postgresql://postgres@localhost/postgres?host=${encodeURIComponent(folder)}`,
    stop: () => {
      call('pg_ctl', ['-D', cluster, '-w', '-m', 'fast', 'stop']);
      remove();
    },
  };
}

function check(result: SpawnSyncReturns<string>): void {
  if (result.status !== 0)
    throw new Error(result.stderr || result.error?.message || 'The plain server failed.');
}
