import { randomInt } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { generateClient } from './serve/webBuild';

const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';

/** Twenty letters in groups of five: 99 bits of chance, and can be typed. */
function makePassword(): string {
  const characters = Array.from({ length: 20 }, () => LETTERS[randomInt(LETTERS.length)]);
  return characters.join('').replace(/(.{5})(?=.)/g, '$1-');
}

/** `npm run seed:demo`: loads the demo world into the registry of this installation. */
async function main(): Promise<void> {
  const given = process.env.EVENLOOP_DEMO_PASSWORD;
  const password = given === undefined || given === '' ? makePassword() : given;
  if (!existsSync(join('prisma', 'generated'))) await generateClient();
  // Loaded only now: these need the generated client.
  const { withStore } = await import('./openStore');
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { ensureStewardCode } = await import('@/lib/registry/accounts/stewardCode');
  const { listAccounts } = await import('@/lib/store/accounts');
  const { loadDemoWorld } = await import('@/prisma/demo/loadDemoWorld');
  await withStore(async ({ place }) => {
    console.log(`Loading the demo world into ${place} …`);
    const registry = openRegistry();
    const [steward] = await listAccounts(registry.db, { role: 'steward' }, undefined, 1);
    const startedAt = performance.now();
    const world = await loadDemoWorld(registry, {
      password,
      ...(steward === undefined ? {} : { steward: { accountId: steward.id, role: 'steward' } }),
      report: (line) => console.log(`  ${line}`),
    });
    const seconds = ((performance.now() - startedAt) / 1000).toFixed(0);
    const emailOf = (role: string) => world.people.find((person) => person.role === role)?.email ?? '';
    console.log(`Done in ${seconds} s. Everything in it is invented and marked as demo.`);
    console.log(
      `Sign in as ${emailOf('tester')} (tester), ${emailOf('reviewer')} (reviewer) or ${emailOf('steward')} (steward).`,
    );
    const code = await ensureStewardCode(registry);
    if (code !== null) {
      console.log(`The record has no steward yet: sign up with the one-time steward code ${code}`);
      console.log('(an earlier code no longer works). The demo steward has no say outside the demo world.');
    }
    console.log(
      given === password
        ? 'The password is the one in EVENLOOP_DEMO_PASSWORD.'
        : `The password of all of them: ${password}`,
    );
  });
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
