import { afterAll, describe, expect, it } from 'vitest';
import { NotAllowed } from '@/lib/domain/errors';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

describe('sign-in', () => {
  it('counts tries that are sent all at once', async () => {
    await person(registry, 'Many Tries');
    const wrong = { email: 'many.tries@people.example', password: 'not the one at all' };
    const results = await Promise.all(Array.from({ length: 30 }, () => signIn(registry, wrong)));
    expect(results.filter((result) => !result.ok && result.reason === 'wrong').length).toBeLessThanOrEqual(
      10,
    );
  });

  it.each([
    ['far too long', `${'a'.repeat(100_000)}@people.example`],
    ['no text that a database keeps', 'nul\u0000@people.example'],
  ])('an address that is %s is wrong like any other and leaves nothing behind', async (_what, email) => {
    const before = await prisma.signInFailure.count();
    expect(await signIn(registry, { email, password: 'x' })).toEqual({ ok: false, reason: 'wrong' });
    expect(await prisma.signInFailure.count()).toBe(before);
  });
});

describe('roles', () => {
  it('two stewards who depose each other at once leave one', async () => {
    const one = await person(registry, 'First Steward', 'steward');
    const other = await person(registry, 'Second Steward', 'steward');
    const results = await Promise.allSettled([
      setRole(registry, one, { accountId: other.accountId, role: 'tester' }),
      setRole(registry, other, { accountId: one.accountId, role: 'tester' }),
    ]);
    expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(results.find((result) => result.status === 'rejected')?.reason).toBeInstanceOf(NotAllowed);
    expect(await prisma.account.count({ where: { role: 'steward' } })).toBe(1);
  });
});
