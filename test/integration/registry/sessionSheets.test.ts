import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { addSheetRun } from '@/lib/registry/sessionSheets/addSheetRun';
import { daySheet } from '@/lib/registry/sessionSheets/daySheet';
import { heldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import { latestDays } from '@/lib/registry/sessionSheets/latestDays';
import { continueDay, openSheet } from '@/lib/registry/sessionSheets/openSheet';
import { saveSheet } from '@/lib/registry/sessionSheets/saveSheet';
import { submitDay } from '@/lib/registry/sessionSheets/submitDay';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { dayFrom, runPart } from '@/lib/run/sessionSheet';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, submitted, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let other: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
});
afterAll(remove);

const key = () => crypto.randomUUID();
const wholeRun = (changes: RunForm = {}) =>
  completeForm({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId, ...changes });
const draftOf = async (runId: string) =>
  (await prisma.run.findUniqueOrThrow({ where: { id: runId } })).draft as RunForm;

/** A sheet whose day is said, with as many runs begun on it. */
async function sheetWith(runs: number, localDate: string) {
  const { sheetId } = await openSheet(registry, tester, { creationKey: key(), localDate });
  const day = dayFrom(wholeRun(), true);
  await saveSheet(registry, tester, {
    sheetId,
    seen: (await daySheet(registry, tester, sheetId)).seen,
    day,
  });
  const begun: string[] = [];
  for (let at = 0; at < runs; at++) {
    const next = { sheetId, creationKey: key(), setupId: vehicle.baselineId };
    begun.push((await addSheetRun(registry, tester, next)).runId);
  }
  return { sheetId, day, runs: begun };
}

/** Types a run's own part, as its page does. */
async function type(sheetId: string, runId: string, day: RunForm, run: RunForm) {
  const { seen } = await daySheet(registry, tester, sheetId, runId);
  return saveSheet(registry, tester, { sheetId, seen, day, runId, run });
}

describe('the sheet of a day', () => {
  it('is opened once for a key, and takes over what lasts from the last run', async () => {
    await submitted(registry, tester, wholeRun({ startedAtLocal: '2026-04-02T09:00' }));
    const creationKey = key();
    const first = await openSheet(registry, tester, { creationKey, localDate: '2026-05-01' });
    const again = await openSheet(registry, tester, { creationKey, localDate: '2026-05-01' });
    expect(again).toEqual(first);
    const view = await daySheet(registry, tester, first.sheetId);
    expect(view.day).toMatchObject({ carId: vehicle.carId, loopId, utcOffsetMin: '60' });
    expect(view.day.airTemperature).toBeUndefined();
    expect(view.runs).toEqual([]);
    expect((await latestDays(registry, tester)).days[0]).toMatchObject({ sheetId: first.sheetId, runs: 0 });
  });

  it('copies what the day says into each draft when it is written, and leaves what a run says otherwise', async () => {
    const { sheetId, day, runs } = await sheetWith(2, '2026-05-02');
    const [first = '', second = ''] = runs;
    expect(await draftOf(first)).toMatchObject({ airTemperature: '18', setupId: vehicle.baselineId });
    await type(sheetId, second, day, { setupId: vehicle.lowId, airTemperature: '21', startTime: '10:40' });
    expect(await draftOf(second)).toMatchObject({
      airTemperature: '21',
      startedAtLocal: '2026-05-02T10:40',
      setupId: vehicle.lowId,
      windSpeed: '3',
    });
    const later = { ...day, airTemperature: '19', windSpeed: '4' };
    await type(sheetId, first, later, { setupId: vehicle.baselineId });
    expect(await draftOf(first)).toMatchObject({ airTemperature: '19', windSpeed: '4' });
    expect(await draftOf(second)).toMatchObject({ airTemperature: '21', windSpeed: '4' });
  });

  it('refuses to write over what was saved elsewhere since, on the sheet and on the run’s own page', async () => {
    const { sheetId, day, runs } = await sheetWith(1, '2026-05-03');
    const [runId = ''] = runs;
    const { seen } = await daySheet(registry, tester, sheetId, runId);
    const save = () =>
      saveSheet(registry, tester, { sheetId, seen, day, runId, run: { tripEnergy: '32.9' } });
    await save();
    await expect(save()).rejects.toBeInstanceOf(Conflict);
    const before = await daySheet(registry, tester, sheetId, runId);
    const run = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    await saveDraft(registry, tester, { runId, draftVersion: run.draftVersion, form: { tripEnergy: '33' } });
    await expect(
      saveSheet(registry, tester, { sheetId, seen: before.seen, day, runId, run: {} }),
    ).rejects.toBeInstanceOf(Conflict);
    expect((await draftOf(runId)).tripEnergy).toBe('33');
  });

  it('tells a page that was overtaken what is kept by now, so that both can be brought together', async () => {
    const { sheetId, day, runs } = await sheetWith(1, '2026-05-09');
    const runId = runs[0] ?? '';
    const { seen } = await daySheet(registry, tester, sheetId, runId);
    const elsewhere = { ...day, traffic: 'free' };
    await saveSheet(registry, tester, { sheetId, seen, day: elsewhere, runId, run: { tripEnergy: '32.9' } });
    const held = await heldSheet(registry, tester, sheetId, runId);
    expect(held).toMatchObject({ day: { traffic: 'free' }, run: { tripEnergy: '32.9' }, isEditable: true });
    const run = { ...held.run, tripDistance: '107.5' };
    await saveSheet(registry, tester, { sheetId, seen: held.seen, day: held.day, runId, run });
    expect(await draftOf(runId)).toMatchObject({
      tripEnergy: '32.9',
      tripDistance: '107.5',
      traffic: 'free',
    });
    await expect(heldSheet(registry, other, sheetId, runId)).rejects.toThrow(NotAllowed);
    expect((await heldSheet(registry, tester, sheetId, 'none')).isEditable).toBe(false);
  });

  it('submits all complete runs, which then no longer change with the day', async () => {
    const { sheetId, day, runs } = await sheetWith(3, '2026-05-04');
    const [first = '', second = '', third = ''] = runs;
    const part = (startTime: string, changes: RunForm = {}) => ({
      ...runPart(wholeRun(changes), day),
      startTime,
    });
    const odometers = { odometerStart: '20 000', odometerEnd: '20 067' };
    await type(sheetId, first, day, part('09:00', { tripEnergy: '32.9' }));
    await type(sheetId, second, day, part('11:00', { ...odometers, chargeStart: '79', chargeEnd: '50' }));
    await type(sheetId, third, day, { setupId: vehicle.lowId });
    const { sent, refused } = await submitDay(registry, tester, { sheetId });
    expect(refused).toEqual([]);
    expect(sent).toHaveLength(2);
    const view = await daySheet(registry, tester, sheetId);
    expect(view.runs.map(({ status }) => status)).toEqual(['submitted', 'submitted', 'draft']);
    expect(view.open?.runId).toBe(third);

    const frozen = await prisma.run.findUniqueOrThrow({ where: { id: first } });
    await type(sheetId, third, { ...day, airTemperature: '25' }, { setupId: vehicle.lowId });
    expect(await prisma.run.findUniqueOrThrow({ where: { id: first } })).toEqual(frozen);
    expect((await draftOf(third)).airTemperature).toBe('25');
    expect(await submitDay(registry, tester, { sheetId })).toEqual({ sent: [], refused: [] });
  });

  it('goes on from a run that was sent: its day, once, with the run on it', async () => {
    const run = await submitted(registry, tester, wholeRun({ startedAtLocal: '2026-05-05T09:00' }));
    const { sheetId } = await continueDay(registry, tester, { creationKey: key(), runId: run.runId });
    const again = await continueDay(registry, tester, { creationKey: key(), runId: run.runId });
    expect(again.sheetId).toBe(sheetId);
    const view = await daySheet(registry, tester, sheetId);
    expect(view.localDate).toBe('2026-05-05');
    expect(view.day).toMatchObject({ carId: vehicle.carId, airTemperature: '18' });
    expect(view.runs.map(({ number }) => number)).toEqual([run.runNumber]);
    const next = await addSheetRun(registry, tester, { sheetId, creationKey: key() });
    const { offers } = await daySheet(registry, tester, sheetId, next.runId);
    expect(offers.map(({ name, text }) => [name, text])).toContainEqual(['chargeStart', '51']);
    expect((await draftOf(next.runId)).chargeStart).toBeUndefined();
  });

  it('is its tester’s alone, and takes a run of its own only', async () => {
    const { sheetId, day, runs } = await sheetWith(1, '2026-05-06');
    const stranger = await sheetWith(1, '2026-05-07');
    await expect(daySheet(registry, other, sheetId)).rejects.toBeInstanceOf(NotAllowed);
    await expect(addSheetRun(registry, other, { sheetId, creationKey: key() })).rejects.toBeInstanceOf(
      NotAllowed,
    );
    await expect(submitDay(registry, other, { sheetId })).rejects.toBeInstanceOf(NotAllowed);
    await expect(continueDay(registry, other, { creationKey: key(), runId: runs[0] })).rejects.toBeInstanceOf(
      NotAllowed,
    );
    await expect(
      saveSheet(registry, tester, { sheetId, seen: 3, day, runId: stranger.runs[0], run: {} }),
    ).rejects.toBeInstanceOf(NotFound);
    await expect(
      openSheet(registry, tester, { creationKey: key(), localDate: '2026-02-31' }),
    ).rejects.toBeInstanceOf(InvalidInput);
  });

  it('is told in the log: opened, saved, and each run placed', async () => {
    const actions = await prisma.auditEntry.groupBy({
      by: ['action'],
      where: { actorId: tester.accountId },
    });
    const names = actions.map(({ action }) => action);
    for (const action of ['sessionSheet.open', 'sessionSheet.save', 'run.placeOnSheet', 'run.saveDraft'])
      expect(names).toContain(action);
  });
});
