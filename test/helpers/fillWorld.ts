import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { filledWorld } from './filledWorld';

/** Leaves the whole demo world where `npm test` keeps it, while its checks that compute nothing run beside it. */
const folder = await mkdtemp(join(tmpdir(), 'evenloop-fill-'));
// The database's user must be able to pass.
await chmod(folder, 0o755);
try {
  await filledWorld(join(folder, 'data'));
} finally {
  await rm(folder, { recursive: true, force: true });
}
