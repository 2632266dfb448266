import { spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { ensureServer } from '@/lib/store/server/ensureServer';
import { oldRegistryAddress, oldRegistryDataFolder, oldRegistryPort } from './browserWorld';
import { copyOldBlobs, restoreOldRegistry } from './oldRegistry';

/**
 * The app as it is today over the registry that version 0.1.0 left, as someone meets it who has just brought their
 * installation up to date: started by the real start command on a data folder that holds the old database and blobs.
 */
await rm(oldRegistryDataFolder, { recursive: true, force: true });
const server = await ensureServer(oldRegistryDataFolder, { durable: false });
try {
  await restoreOldRegistry(server.connection);
  await copyOldBlobs(join(oldRegistryDataFolder, 'blobs'));
} finally {
  await server.release();
}
const child = spawn(process.execPath, ['--import', 'tsx', 'lib/commands/start.ts'], {
  stdio: 'inherit',
  env: {
    ...process.env,
    DATABASE_URL: '',
    EVENLOOP_DATABASE: '',
    EVENLOOP_DATA: oldRegistryDataFolder,
    NEXTAUTH_URL: oldRegistryAddress,
    NEXTAUTH_SECRET: '',
    PORT: String(oldRegistryPort),
  },
});
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => child.kill(signal));
process.exitCode = await new Promise<number>((resolve) => child.once('exit', (code) => resolve(code ?? 1)));
await rm(oldRegistryDataFolder, { recursive: true, force: true });
