import { afterAll, expect, it } from 'vitest';
import { ALLOWANCE, USE_WINDOW_MS } from '@/lib/access/allowances';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { NotAllowed, TooSoon } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

it('takes an account’s files up to its allowance, however many come at once, and again in the next stretch', async () => {
  const [one, other] = [await person(registry, 'Ilse Varga'), await person(registry, 'Tomas Brandl')];
  await expect(boundUse(registry, undefined, 'upload')).rejects.toThrow(NotAllowed);
  const asked = Array.from({ length: ALLOWANCE.upload + 20 }, () => boundUse(registry, one, 'upload'));
  const answers = await Promise.allSettled(asked);
  expect(answers.filter(({ status }) => status === 'fulfilled')).toHaveLength(ALLOWANCE.upload);
  const refusal = await boundUse(registry, one, 'upload').catch((error) => error);
  expect(refusal).toBeInstanceOf(TooSoon);
  expect(refusal.waitS).toBeLessThanOrEqual(USE_WINDOW_MS / 1000);
  // Neither others nor other things are held up by it.
  await boundUse(registry, other, 'upload');
  await boundUse(registry, one, 'api');
  clock.now = new Date(clock.now.getTime() + refusal.waitS * 1000);
  await boundUse(registry, one, 'upload');
});
