import { createPublicKey } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { verifySnapshot } from '@/lib/registry/openData/verifySnapshot';

const USAGE = `npm run snapshot:verify -- FILE.zip [--public-key FILE …]
  Needs no database. Holds a snapshot against its signature, digests, schemas and keys, and computes every result, fit,
  estimate, rank set and difference again; exit 1 where anything differs, 2 where another version of the method is needed.
  --public-key FILE  a key to trust (PEM); without one any signature that fits is taken, and its key is printed`;

/** `npm run snapshot:verify -- FILE.zip` */
async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      'public-key': { type: 'string', multiple: true, default: [] },
      help: { type: 'boolean', default: false },
    },
  });
  const [file, ...others] = positionals;
  if (values.help || file === undefined || others.length > 0) {
    console.log(USAGE);
    return values.help ? 0 : 64;
  }
  const trusted = await Promise.all(
    values['public-key'].map(async (name) => createPublicKey(await readFile(name, 'utf8'))),
  );
  const startedAt = performance.now();
  const { name, keyId, rows, runs, differences, count, notRecomputed } = await verifySnapshot(file, {
    trusted,
  });
  if (name !== undefined) console.log(`${file}: ${name}, ${rows} rows of ${runs} runs`);
  if (keyId !== undefined)
    console.log(`signed by the key ${keyId}${trusted.length > 0 ? ', which you trust' : ''}`);
  for (const { where, row, column, says } of differences)
    console.log(`  ${[where, row, column].filter((part) => part !== '').join(' · ')}: ${says}`);
  if (count > differences.length) console.log(`  … and ${count - differences.length} more`);
  if (notRecomputed !== undefined) console.log(`The numbers were not computed again: ${notRecomputed}.`);
  const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
  // In kilobytes (getrusage): the most that the process ever held.
  const memory = (process.resourceUsage().maxRSS / 1024).toFixed(0);
  if (count === 0 && notRecomputed === undefined) console.log('Every number is what its runs say.');
  else if (count > 0)
    console.log(`${count} ${count === 1 ? 'thing is' : 'things are'} not as they have to be.`);
  console.log(`${seconds} s, at most ${memory} MB of memory.`);
  if (count > 0) return 1;
  return notRecomputed === undefined ? 0 : 2;
}

try {
  process.exitCode = await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
