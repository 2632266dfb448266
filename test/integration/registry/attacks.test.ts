import { afterAll, expect, it } from 'vitest';
import { freshDatabase } from '@/test/helpers/database';
import { registryOn } from '@/test/helpers/smallRegistry';
import { runAttacks } from '../../attacks/attack';
import { directAttacks } from '../../attacks/directAttacks';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

/** The fast part of `npm run attacks`: what asks no server. */
it('refuses or flags whatever is tried at its use cases', async () => {
  const attacks = await directAttacks(registry);
  expect(attacks.length).toBeGreaterThan(80);
  expect((await runAttacks(attacks)).reached).toEqual([]);
});
