import fc from 'fast-check';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { FORGOTTEN_MS, FREE_TRIES, LONGEST_WAIT_S, waitAfterS } from '@/lib/access/delays';
import { beginTry } from '@/lib/registry/accounts/boundTries';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signUp } from '@/lib/registry/accounts/signUp';
import { TooSoon } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn, STRONG_PASSWORD } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const pass = (ms: number) => {
  clock.now = new Date(clock.now.getTime() + ms);
};

let number = 0;
let email: string;
let accountId: string;
beforeEach(async () => {
  number += 1;
  email = `oda.lind.${number}@people.example`;
  ({ accountId } = await person(registry, `Oda Lind ${number}`));
});
const wrong = (from: { address?: string; device?: string } = {}) =>
  signIn(registry, { email, password: 'not this one at all', ...from });
const right = (from: { address?: string; device?: string } = {}) =>
  signIn(registry, { email, password: STRONG_PASSWORD, ...from });
const tooSoon = (waitS: number) => ({ ok: false, reason: 'tooSoon', waitS });

describe('failed sign-ins', () => {
  it('make the next one wait, for longer each time, and a right one ends it', async () => {
    for (let tries = 0; tries < FREE_TRIES.account; tries += 1) await wrong();
    for (const waitS of [1, 2, 4, 8]) {
      expect(await wrong()).toEqual({ ok: false, reason: 'wrong' });
      expect(await right()).toEqual(tooSoon(waitS));
      pass(waitS * 1000 - 1);
      expect(await right()).toEqual(tooSoon(1));
      pass(1);
    }
    expect(await right()).toMatchObject({ ok: true });
    expect(await wrong()).toEqual({ ok: false, reason: 'wrong' });
    expect(await right()).toMatchObject({ ok: true });
  });

  it('of strangers keep out neither a browser that was here before nor the owner for longer than the longest wait', async () => {
    for (let tries = 0; tries < 14; tries += 1) {
      pass(LONGEST_WAIT_S * 1000);
      expect(await wrong({ address: `192.0.2.${tries}` })).toEqual({ ok: false, reason: 'wrong' });
    }
    expect(await right({ address: '198.51.100.7' })).toEqual(tooSoon(LONGEST_WAIT_S));
    expect(await right({ address: '192.0.2.1', device: 'known' })).toMatchObject({ ok: true });
    // What is refused meanwhile adds nothing.
    for (let more = 0; more < 5; more += 1) await wrong({ address: '192.0.2.1' });
    pass(LONGEST_WAIT_S * 1000);
    expect(await right({ address: '198.51.100.7' })).toMatchObject({ ok: true });
  });

  it('of a known browser wait as well: a stolen one may not try for ever', async () => {
    for (let tries = 0; tries <= FREE_TRIES.device; tries += 1) await wrong({ device: 'stolen' });
    expect(await right({ device: 'stolen' })).toEqual(tooSoon(1));
    expect(await right({ device: 'other' })).toMatchObject({ ok: true });
  });

  it('from one network at many accounts wait, also between sign-ins to an account of its own', async () => {
    const address = `203.0.113.${number}`;
    const tryAt = (of: string, password: string) => signIn(registry, { email: of, password, address });
    for (let tries = 0; tries <= FREE_TRIES.address; tries += 1) {
      expect(await tryAt(`spray${tries}@people.example`, 'x')).toEqual({ ok: false, reason: 'wrong' });
      if (tries % 10 === 0)
        expect(await right({ address })).toMatchObject({ ok: tries < FREE_TRIES.address });
    }
    expect(await tryAt('spray@people.example', 'x')).toEqual(tooSoon(1));
    expect(await right({ address: '203.0.113.250' })).toMatchObject({ ok: true });
  });

  it('are kept by no address and forgotten after an hour', async () => {
    await wrong({ address: '192.0.2.77' });
    expect(JSON.stringify(await prisma.tryCount.findMany())).not.toMatch(/oda|192\.0\.2/);
    pass(FORGOTTEN_MS + 1);
    await signIn(registry, { email: 'someone@people.example', password: 'x' });
    expect(await prisma.tryCount.count()).toBe(1);
  });
});

describe('other things that are tried', () => {
  it('the current password waits', async () => {
    const change = (currentPassword: string) =>
      changePassword(registry, { accountId, role: 'tester' }, { currentPassword, newPassword: 'short' });
    for (let tries = 0; tries <= FREE_TRIES.password; tries += 1)
      await expect(change('guess')).rejects.toMatchObject({ issues: [{ path: 'currentPassword' }] });
    await expect(change(STRONG_PASSWORD)).rejects.toThrow(TooSoon);
    pass(1000);
    await expect(change(STRONG_PASSWORD)).rejects.toMatchObject({ issues: [{ path: 'newPassword' }] });
  });

  it('accounts opened from one network wait, and from another do not', async () => {
    const open = (i: number, address: string) => {
      const person = { displayName: 'Many', password: STRONG_PASSWORD };
      return signUp(registry, { ...person, email: `many${i}.${address}@people.example` }, address);
    };
    for (let i = 0; i <= FREE_TRIES.signUp; i += 1) await open(i, '192.0.2.9');
    await expect(open(100, '192.0.2.9')).rejects.toMatchObject({ waitS: 1, issues: [{ path: 'email' }] });
    await open(100, '192.0.2.10');
  });
});

describe('the count in the database', () => {
  it('takes and refuses as the rule says, whenever tries come', async () => {
    let which = 0;
    const gapsMs = fc.array(
      fc.oneof(
        fc.constant(0),
        fc.integer({ min: 0, max: 2 * FORGOTTEN_MS }),
        fc.integer({ min: 0, max: 300_000 }),
      ),
      {
        minLength: 6,
        maxLength: 20,
      },
    );
    await fc.assert(
      fc.asyncProperty(gapsMs, async (gaps) => {
        which += 1;
        let model = { tries: 0, lastMs: Number.NEGATIVE_INFINITY, nextMs: Number.NEGATIVE_INFINITY };
        for (const gap of gaps) {
          pass(gap);
          const nowMs = clock.now.getTime();
          const waitS = await beginTry(registry, [{ thing: 'account', which: `property ${which}` }]);
          if (nowMs < model.nextMs) {
            expect(waitS).toBe(Math.ceil((model.nextMs - nowMs) / 1000));
            continue;
          }
          expect(waitS).toBeUndefined();
          const tries = nowMs - model.lastMs >= FORGOTTEN_MS ? 1 : model.tries + 1;
          model = { tries, lastMs: nowMs, nextMs: nowMs + waitAfterS(tries, FREE_TRIES.account) * 1000 };
        }
      }),
      { numRuns: 15 },
    );
  });
});
