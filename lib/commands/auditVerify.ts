import { createPublicKey } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { headsIn, sealHeads } from '@/lib/files/sealHeads';
import { verifyTrail } from '@/lib/registry/audit/verifyTrail';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sealKey } from '@/lib/store/server/keptSecret';
import { withDatabase } from './openStore';

const USAGE = `npm run audit:verify [-- --heads FILE] [--public-key FILE …]
  Holds the audit log against the seals outside the database; exit 1 at the first entry that is not as it was sealed.
  --heads FILE       heads kept elsewhere, in place of those in the data folder
  --public-key FILE  a key to trust as well (PEM), of before the present one; may be given several times
  --show-key         prints the public key of this registry, to be kept elsewhere`;

/** `npm run audit:verify` */
async function main(): Promise<number> {
  const { values } = parseArgs({
    options: {
      heads: { type: 'string' },
      'public-key': { type: 'string', multiple: true, default: [] },
      'show-key': { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) {
    console.log(USAGE);
    return 0;
  }
  const folder = dataFolderFromEnvironment();
  const own = createPublicKey(await sealKey(folder));
  if (values['show-key']) {
    console.log(own.export({ type: 'spki', format: 'pem' }).toString().trim());
    return 0;
  }
  const others = await Promise.all(
    values['public-key'].map(async (file) => createPublicKey(await readFile(file, 'utf8'))),
  );
  const heads = values.heads === undefined ? headsIn(folder) : sealHeads(values.heads);
  return withDatabase(async ({ connection, place }) => {
    console.log(`The audit log in ${place}, held against ${heads.file}`);
    const { finding, seals, sealedEntries, unsealed, head } = await verifyTrail(connection, heads, [
      own,
      ...others,
    ]);
    if (finding !== undefined) {
      console.log(`Wrong: ${finding.says}.`);
      console.log(`Before it, ${sealedEntries} entries under ${seals} seals are as they were sealed.`);
      return 1;
    }
    console.log(
      `${sealedEntries} entries under ${seals} seals are as they were sealed; ${unsealed} are not sealed yet.`,
    );
    if (head) console.log(`Last head: ${head.number} of ${head.sealedAt.toISOString()}, ${head.hash}`);
    return 0;
  });
}

try {
  process.exitCode = await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
