import { afterAll, describe, expect, it } from 'vitest';
import { askForAccount } from '@/lib/registry/accounts/askForAccount';
import { signInExternal } from '@/lib/registry/accounts/signInExternal';
import { addLoop } from '@/lib/registry/loops/addLoop';
import { addModel } from '@/lib/registry/models/addModel';
import { fillNameKeys, requestNameKeys } from '@/lib/registry/names/fillNameKeys';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { InvalidInput } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import { loopOf, person, registryOn, STRONG_PASSWORD, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);
const { mail } = letterBox();
const tester = await person(registry, 'Mira Holm');

let count = 0;
function ask(displayName: string) {
  count += 1;
  const input = { email: `asks${count}@people.example`, displayName, password: STRONG_PASSWORD };
  return askForAccount(registry, mail, input);
}
const MODEL = {
  makerName: 'Sound Motors',
  name: 'Skiff 40',
  modelYear: 2025,
  variant: '',
  bodyClass: 'hatch',
  kerbMassKg: 1600,
};

describe('a stranger’s name', () => {
  it.each([
    'Mira Holm',
    'mira  holm',
    'Mira-Holm',
    'M\u0456ra Holm',
    'Mir\u0430 Holm',
    'Petra Steward',
    'Mira\u202e Holm',
  ])('is refused where it passes for another’s or for a role: %s', async (name) => {
    await expect(ask(name)).rejects.toMatchObject({ issues: [{ path: 'displayName' }] });
  });

  it('is taken once of two that are asked for at once', async () => {
    const both = await Promise.allSettled([ask('Jonas Reet'), ask('Jonas-Reet'), ask('Jonas reet')]);
    expect(both.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
  });

  it('of a provider is made free, and never that of a role', async () => {
    const names = ['Mira Holm', 'Steward', undefined].map(async (name, index) => {
      const found = await signInExternal(registry, {
        provider: 'oidc',
        providerAccountId: `p${index}`,
        email: `p${index}@people.example`,
        isEmailVerified: true,
        name,
      });
      return found?.displayName;
    });
    const made = await Promise.all(names);
    expect(made[0]).toBe('Mira Holm 2');
    expect(made.slice(1).sort()).toEqual(['New tester', 'New tester 2']);
  });
});

describe('names of things', () => {
  it('that look like another’s are refused; the same spelling is the same thing', async () => {
    await addModel(registry, tester, MODEL);
    await addModel(registry, tester, { ...MODEL, modelYear: 2026 });
    await expect(addModel(registry, tester, { ...MODEL, makerName: 'S\u03bfund Motors' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(
      addModel(registry, tester, { ...MODEL, name: 'Skiff 4O', modelYear: 2024 }),
    ).rejects.toMatchObject({ issues: [{ path: 'name', what: expect.stringContaining('Skiff 40') }] });
    expect(await prisma.vehicleModel.count()).toBe(2);
  });

  it('are held apart for loops and levels as well', async () => {
    const vehicle = await vehicleOf(registry, tester, 'Plover');
    const loopId = await loopOf(registry, tester, 'Harbour ring');
    const loop = await prisma.loop.findUniqueOrThrow({ where: { id: loopId }, include: { legs: true } });
    await expect(addLoop(registry, tester, { ...loop, legs: [], name: 'Harb\u03bfur ring' })).rejects.toThrow(
      InvalidInput,
    );
    await addFactorLevel(registry, tester, {
      modelId: vehicle.modelId,
      factor: 'rideHeight',
      label: 'Sport 10',
    });
    await expect(
      addFactorLevel(registry, tester, {
        modelId: vehicle.modelId,
        factor: 'rideHeight',
        label: 'Sport lO',
      }),
    ).rejects.toMatchObject({ issues: [{ path: 'label' }] });
  });

  it('of an earlier release get their keys by a job, once', async () => {
    const before = await prisma.nameKey.findMany({
      orderBy: [{ kind: 'asc' }, { key: 'asc' }, { thingId: 'asc' }],
    });
    expect(await requestNameKeys(registry)).toBe(false);
    await prisma.nameKey.deleteMany();
    expect(await requestNameKeys(registry)).toBe(true);
    expect(await fillNameKeys(registry)).toBeGreaterThan(8);
    expect(
      await prisma.nameKey.findMany({ orderBy: [{ kind: 'asc' }, { key: 'asc' }, { thingId: 'asc' }] }),
    ).toEqual(before);
  });
});
