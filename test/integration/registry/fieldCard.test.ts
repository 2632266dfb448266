import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fieldLists, openFieldDay, openFieldRun, serverDraft } from '@/lib/registry/runs/fieldCard';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { saveSheet } from '@/lib/registry/sessionSheets/saveSheet';
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

describe('a day that began on a phone', () => {
  const day = (creationKey: string, form: Record<string, string>) => ({
    accountId: tester.accountId,
    creationKey,
    localDate: '2026-05-14',
    form,
  });

  it('is one sheet however often it is sent, its runs stand on it, and the lists take it along', async () => {
    const said = { traffic: 'free', chargeStart: '80' };
    const sent = await Promise.all(
      [1, 2].map(() => openFieldDay(registry, tester, day('phone-day-1', said))),
    );
    expect(sent[0]).toEqual(sent[1]);
    expect(sent[0]).toMatchObject({ seen: 1, day: { traffic: 'free' }, isEditable: true });
    const { sheetId, seen } = sent[0] as { sheetId: string; seen: number };
    const { accountId } = tester;
    const run = { accountId, creationKey: 'phone-day-run', form: { traffic: 'free' }, sheetId };
    const opened = await openFieldRun(registry, tester, run);
    expect(await openFieldRun(registry, tester, run)).toEqual(opened);
    await saveSheet(registry, tester, { sheetId, seen, day: { traffic: 'dense' } });
    expect((await serverDraft(registry, tester, opened.runId)).form.traffic).toBe('dense');
    expect(await openFieldDay(registry, tester, day('phone-day-1', said))).toMatchObject({
      seen: 2,
      day: { traffic: 'dense' },
    });
    const { days } = await fieldLists(registry, { ...tester, displayName: 'Liv Askeland' });
    expect(days[0]).toMatchObject({ sheetId, creationKey: 'phone-day-1', seen: 2, localDate: '2026-05-14' });
  });

  it('is its tester’s alone', async () => {
    await expect(openFieldDay(registry, other, day('phone-day-2', {}))).rejects.toThrow(NotAllowed);
    const { sheetId } = await openFieldDay(registry, tester, day('phone-day-2', {}));
    const theirs = { accountId: other.accountId, creationKey: 'phone-day-3', form: {}, sheetId };
    await expect(openFieldRun(registry, other, theirs)).rejects.toThrow(NotAllowed);
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
