import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { link, readFile, rename, rm } from 'node:fs/promises';
import { platform } from 'node:os';
import { join } from 'node:path';

/** What a running (or dead) server wrote about itself. */
export type Postmaster = {
  readonly pid: number;
  readonly port: number;
  /** Empty when the server listens on no socket. */
  readonly socketFolder: string;
  /** Empty when the server listens on no address. */
  readonly address: string;
};

/**
 * Reads `postmaster.pid` of a cluster: line 1 process id, 2 folder, 3 start, 4 port, 5 socket folder,
 * 6 first address (source: PostgreSQL 18, src/include/utils/pidfile.h). Undefined when there is none
 * or the server has not finished writing it.
 */
export async function readPostmaster(cluster: string): Promise<Postmaster | undefined> {
  const text = await readFile(join(cluster, 'postmaster.pid'), 'utf8').catch(() => '');
  const [pid, , , port, socketFolder, address] = text.split('\n').map((line) => line.trim());
  if (!pid || !port) return undefined;
  return { pid: Number(pid), port: Number(port), socketFolder: socketFolder ?? '', address: address ?? '' };
}

/** Whether a process lives and is the server of this cluster, told by its command line. */
export function servesCluster(pid: number, cluster: string): boolean {
  if (!isAlive(pid)) return false;
  // No command line to be had there without administration tools: believe the file.
  if (platform() === 'win32') return true;
  return `${commandLine(pid)} `.includes(` -D ${cluster} `);
}

export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it lives, under another user.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

function commandLine(pid: number): string {
  try {
    return platform() === 'linux'
      ? readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ')
      : execFileSync('ps', ['-p', String(pid), '-o', 'args='], { encoding: 'utf8' });
  } catch {
    // The process ended between the two looks.
    return '';
  }
}

/**
 * Takes away a `postmaster.pid` whose process id now belongs to something else, where PostgreSQL itself
 * would wait for ever. (A file whose process is dead PostgreSQL clears by itself.)
 *
 * Moved aside first and looked at again: should another process have started a server in between, its
 * fresh file is put back. Even then no second server could run: PostgreSQL refuses a folder whose
 * shared memory is in use.
 */
export async function clearStalePostmaster(cluster: string, stale: Postmaster): Promise<void> {
  const file = join(cluster, 'postmaster.pid');
  const aside = `${file}.stale.${process.pid}`;
  try {
    await rename(file, aside);
  } catch {
    return;
  }
  const moved = Number.parseInt(await readFile(aside, 'utf8').catch(() => ''), 10);
  if (moved !== stale.pid && servesCluster(moved, cluster)) await link(aside, file).catch(() => undefined);
  await rm(aside, { force: true });
}
