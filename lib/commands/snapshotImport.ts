import { createReadStream, existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { InvalidInput } from '@/lib/run/errors';
import { generateClient } from './serve/webBuild';

const USAGE = `npm run snapshot:import -- FILE.zip --origin https://loops.example [--accept KEY --reason "…"]
  Brings a snapshot of another registry into a world of its own: every number of it is verified first, and what does not
  verify is refused. Nothing of it is counted with this registry's runs.
  --origin ADDRESS  the registry that it is of
  --accept KEY      the key to take for that registry's own from now on (its 16 digits), where it is new or has changed
  --reason TEXT     how you know that it is theirs; public
exit 0 where it is shown, 1 where it was refused, 3 where its key has to be accepted first`;

/** `npm run snapshot:import -- FILE.zip --origin ADDRESS` */
async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      origin: { type: 'string' },
      accept: { type: 'string' },
      reason: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  });
  const [file, ...others] = positionals;
  const { origin, accept, reason } = values;
  if (values.help || file === undefined || origin === undefined || others.length > 0) {
    console.log(USAGE);
    return values.help ? 0 : 64;
  }
  if (!existsSync(file)) throw new Error(`${file} is not there.`);
  if (!existsSync(join('prisma', 'generated'))) await generateClient();
  // Loaded only now: these need the generated client.
  const { withStore } = await import('./openStore');
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { acceptOtherKey } = await import('@/lib/registry/otherRegistries/decideKey');
  const { receiveOther } = await import('@/lib/registry/otherRegistries/receive');
  const { runJobsNow } = await import('@/lib/registry/runJobs');
  const { otherSnapshot } = await import('@/lib/store/otherRegistries');
  let code = 1;
  await withStore(async ({ place }) => {
    const registry = openRegistry();
    console.log(`Receiving ${file} in ${place} …`);
    const received = await receiveOther(registry, undefined, { origin, bytes: createReadStream(file) });
    const { snapshotId, name, keyId, trust } = received;
    console.log(`${name}, signed by the key ${keyId}`);
    if (trust !== 'accepted') {
      console.log(
        trust === 'first'
          ? `No key is accepted for ${origin} yet.`
          : `Another key is accepted for ${origin}: this one is refused until it is accepted in its place.`,
      );
      if (accept === undefined) {
        console.log(
          'Compare it with what they publish elsewhere, then accept it at /other-registries, or here:',
        );
        console.log(`  npm run snapshot:import -- ${file} --origin ${origin} --accept ${keyId} --reason "…"`);
        code = 3;
        return;
      }
      await acceptOtherKey(registry, undefined, { snapshotId, keyId: accept, reason: reason ?? '' });
    }
    // A worker of the registry may have it already.
    const isLooking = async () => (await otherSnapshot(registry.db, snapshotId))?.state === 'checking';
    for (await runJobsNow(registry); await isLooking(); await sleep(1000)) await runJobsNow(registry);
    const after = await otherSnapshot(registry.db, snapshotId);
    code = after?.state === 'shown' ? 0 : 1;
    console.log(
      after?.state === 'shown'
        ? `Every number is what its runs say. It is shown in a world of its own: /registries/${after.world.slice('import:'.length)}`
        : `Refused: ${after?.says ?? after?.state}`,
    );
  });
  return code;
}

/** What a form would say beside its field. */
function wordsOf(error: unknown): unknown {
  if (error instanceof InvalidInput)
    return error.issues.map(({ what, why, fix }) => [what, why, fix].join(' ')).join('\n');
  return error instanceof Error ? error.message : error;
}

try {
  process.exitCode = await main();
} catch (error) {
  console.error(wordsOf(error));
  process.exitCode = 1;
}
