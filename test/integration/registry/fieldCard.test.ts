import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fieldLists, openFieldRun, serverDraft } from '@/lib/registry/runs/fieldCard';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let other: Actor;
beforeAll(async () => {
  tester = await person(registry, 'Liv Askeland');
  other = await person(registry, 'Per Holt');
});

const opened = (actor: Actor | undefined, creationKey: string, form = { chargeStart: '80' }) =>
  openFieldRun(registry, actor, { accountId: tester.accountId, creationKey, form });

describe('a run that began on a phone', () => {
  it('is one run however often it is sent, and the answer says what became of it', async () => {
    const sent = await Promise.all([opened(tester, 'phone-key-1'), opened(tester, 'phone-key-1')]);
    expect(sent[0]).toEqual(sent[1]);
    expect(sent[0]).toMatchObject({
      status: 'draft',
      isEditable: true,
      draftVersion: 1,
      form: { chargeStart: '80' },
    });
    const { runId } = sent[0];
    await saveDraft(registry, tester, { runId, draftVersion: 1, form: { chargeStart: '12' } });
    const again = await opened(tester, 'phone-key-1');
    expect(again).toMatchObject({ runId, draftVersion: 2, form: { chargeStart: '12' } });
    expect(await serverDraft(registry, tester, runId)).toEqual(again);
    expect(await prisma.run.count({ where: { testerId: tester.accountId } })).toBe(1);
  });

  it('is never made under the name of somebody who has signed in since', async () => {
    await expect(opened(other, 'phone-key-2')).rejects.toThrow(NotAllowed);
    await expect(opened(undefined, 'phone-key-2')).rejects.toThrow(NotAllowed);
    expect(await prisma.run.count({ where: { creationKey: 'phone-key-2' } })).toBe(0);
  });

  it('is shown to its tester alone', async () => {
    const { runId } = await opened(tester, 'phone-key-3');
    await expect(serverDraft(registry, other, runId)).rejects.toThrow(NotAllowed);
    await expect(serverDraft(registry, undefined, runId)).rejects.toThrow(NotAllowed);
    await expect(serverDraft(registry, tester, crypto.randomUUID())).rejects.toThrow(NotFound);
    await expect(openFieldRun(registry, tester, 'no object')).rejects.toThrow(InvalidInput);
  });
});

describe('the lists of a phone', () => {
  it('hold one’s own cars with their setups, and the classes that each loop allows', async () => {
    const vehicle = await vehicleOf(registry, tester, 'Holm');
    await vehicleOf(registry, other, 'Vik');
    const loopId = await loopOf(registry, other, 'West strand');
    const lists = await fieldLists(registry, { ...tester, displayName: 'Liv Askeland' });
    expect(lists.cars.map(({ id }) => id)).toEqual([vehicle.carId]);
    expect(lists.cars[0]?.setups.map(({ id }) => id).sort()).toEqual(
      [vehicle.baselineId, vehicle.lowId].sort(),
    );
    const allowed = lists.loops.find(({ id }) => id === loopId)?.cruiseClassKeys;
    expect(allowed).toContain('kmh-120');
    expect(allowed).not.toContain('kmh-130');
    await expect(fieldLists(registry, undefined)).rejects.toThrow(NotAllowed);
  });
});
