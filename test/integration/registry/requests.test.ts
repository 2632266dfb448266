import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addCar } from '@/lib/registry/cars/addCar';
import { askForTest, askSubjects, readAskForm } from '@/lib/registry/requests/askForTest';
import { readRequest } from '@/lib/registry/requests/requests';
import { backRequest, closeRequest, hideRequest } from '@/lib/registry/requests/voices';
import { guessStudy } from '@/lib/registry/studies/guesses';
import { abandonStudy, beginStudy, completeStudy } from '@/lib/registry/studies/moveStudy';
import { newPlanForm, planSubjects } from '@/lib/registry/studies/planForm';
import { planStudy } from '@/lib/registry/studies/planStudy';
import { readStudy } from '@/lib/registry/studies/study';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooSoon } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { PLAN_DEFAULTS, setupFieldName } from '@/lib/study/planForm';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const QUESTION = 'Does the low ride height use less?';
const CLASS = 'kmh-110';
let mira: Actor;
let lea: Actor;
let pio: Actor;
let stine: Actor;
let vehicle: Vehicle;
let loopId = '';

beforeAll(async () => {
  mira = await person(registry, 'Mira Holm');
  lea = await person(registry, 'Lea Brandt', 'reader');
  pio = await person(registry, 'Pio Vance', 'reader');
  stine = await person(registry, 'Stine Roth', 'steward');
  vehicle = await vehicleOf(registry, mira);
  loopId = await loopOf(registry, mira);
});

const pairOfSetups = () => `setups ${vehicle.baselineId} ${vehicle.lowId}`;
const asked = (changes = {}) => ({
  modelId: vehicle.modelId,
  cruiseClassKey: CLASS,
  pair: pairOfSetups(),
  question: QUESTION,
  ...changes,
});
const plan = () => ({
  ...PLAN_DEFAULTS,
  runsADay: '2',
  days: '2',
  baselineId: vehicle.baselineId,
  [setupFieldName(vehicle.lowId)]: 'yes',
});
const planned = (requestId: string, carId = vehicle.carId) => ({
  carId,
  loopId,
  cruiseClassKey: CLASS,
  question: QUESTION,
  form: plan(),
  requestId,
  seed: 3,
});
const row = async (id: string, actor?: Actor) => {
  const found = await readRequest(registry, actor, id);
  if (found === undefined) throw new Error('no such request');
  return found;
};
const newsOf = async ({ accountId }: Actor) =>
  (await prisma.notification.findMany({ where: { accountId }, orderBy: { id: 'asc' } })).map(
    ({ kind }) => kind,
  );

/** One guess an account while a study runs, seen by nobody else; none by those who drive in it. */
async function guessing(studyId: string, slug: string): Promise<void> {
  const guess = { studyId, direction: 'less', size: '4' };
  await expect(guessStudy(registry, undefined, guess)).rejects.toBeInstanceOf(NotAllowed);
  await expect(guessStudy(registry, mira, guess)).rejects.toBeInstanceOf(NotAllowed);
  await expect(guessStudy(registry, lea, { ...guess, size: '80' })).rejects.toBeInstanceOf(InvalidInput);
  await expect(guessStudy(registry, lea, { studyId, size: '4' })).rejects.toBeInstanceOf(InvalidInput);
  await guessStudy(registry, lea, guess);
  await guessStudy(registry, lea, { ...guess, size: '2,5' });
  await expect(guessStudy(registry, pio, { ...guess, size: '' })).rejects.toBeInstanceOf(InvalidInput);
  await guessStudy(registry, pio, { studyId, direction: 'same', size: '' });
  const guessesFor = async (actor?: Actor) => (await readStudy(registry, actor, slug))?.guesses;
  expect(await guessesFor(lea)).toEqual({ count: 2, own: -2.5, mayGuess: true, shown: null });
  expect(await guessesFor()).toEqual({ count: 2, own: null, mayGuess: false, shown: null });
  expect(await guessesFor(mira)).toMatchObject({ own: null, mayGuess: false, shown: null });
  const logged = await prisma.auditEntry.findMany({ where: { action: 'study.guess' } });
  expect(logged.map(({ details }) => details)).toEqual([{}, {}, {}]);
}

describe('what readers ask for', () => {
  let requestId = '';

  it('is asked of one factor of one model, with the voice of whoever asks', async () => {
    expect((await askSubjects(registry, lea)).models.map(({ id }) => id)).toContain(vehicle.modelId);
    const form = await readAskForm(registry, lea, { modelId: vehicle.modelId, classKey: CLASS });
    expect(form.pairs.map(({ value }) => value)).toContain(pairOfSetups());
    await expect(askForTest(registry, undefined, asked())).rejects.toBeInstanceOf(NotAllowed);
    await expect(askForTest(registry, lea, asked({ pair: 'setups a b' }))).rejects.toBeInstanceOf(
      InvalidInput,
    );
    await expect(askForTest(registry, lea, asked({ question: 'Why?' }))).rejects.toBeInstanceOf(InvalidInput);
    ({ requestId } = await askForTest(registry, lea, asked()));
    const found = await row(requestId, lea);
    expect(found).toMatchObject({ voices: 1, state: 'open', mine: { backs: true, mayClose: true } });
    expect(found.words).toContain('against the car as delivered');
  });

  it('is not asked for twice, and look-alikes are shown first', async () => {
    await expect(askForTest(registry, pio, asked())).rejects.toBeInstanceOf(Conflict);
    await expect(askForTest(registry, pio, asked({ isOther: true }))).rejects.toBeInstanceOf(Conflict);
    const other = asked({ cruiseClassKey: 'kmh-90' });
    await expect(askForTest(registry, pio, other)).rejects.toSatisfy(
      (error) => error instanceof InvalidInput && error.issues[0]?.path === 'isOther',
    );
    const form = await readAskForm(registry, pio, {
      modelId: vehicle.modelId,
      classKey: 'kmh-90',
      pair: pairOfSetups(),
    });
    expect(form).toMatchObject({ isThere: false, alike: [{ id: requestId }] });
    const { requestId: at90 } = await askForTest(registry, pio, { ...other, isOther: true });
    await expect(closeRequest(registry, lea, { requestId: at90 })).rejects.toBeInstanceOf(NotAllowed);
    await closeRequest(registry, pio, { requestId: at90 });
    expect((await row(at90)).state).toBe('closed');
    await expect(backRequest(registry, lea, { requestId: at90, wants: 'back' })).rejects.toBeInstanceOf(
      Conflict,
    );
  });

  it('has one voice an account, which can be taken back', async () => {
    for (let i = 0; i < 2; i++) await backRequest(registry, pio, { requestId, wants: 'back' });
    expect((await row(requestId, pio)).voices).toBe(2);
    await backRequest(registry, pio, { requestId, wants: 'unback' });
    expect((await row(requestId, pio)).voices).toBe(1);
    await backRequest(registry, pio, { requestId, wants: 'back' });
    const demo = await person({ ...registry, world: 'demo' }, 'Ada Lund', 'reader');
    await expect(
      backRequest(registry, { ...demo, world: 'demo' }, { requestId, wants: 'back' }),
    ).rejects.toBeInstanceOf(NotAllowed);
    const acts = await prisma.auditEntry.count({ where: { subjectId: requestId } });
    expect(acts).toBe(4);
  });

  it('becomes a study whose plan is begun from it, and those who back it are told', async () => {
    const subjects = await planSubjects(registry, mira, requestId);
    expect(subjects).toMatchObject({
      request: { cruiseClassKey: CLASS, question: QUESTION },
      cars: [{ id: vehicle.carId }],
    });
    const of = { carId: vehicle.carId, loopId, cruiseClassKey: CLASS, requestId };
    const begun = await newPlanForm(registry, mira, of);
    expect(begun.form).toMatchObject({
      question: QUESTION,
      baselineId: vehicle.baselineId,
      [setupFieldName(vehicle.lowId)]: 'yes',
    });
    const given = await planStudy(registry, mira, planned(requestId));
    expect((await row(requestId)).state).toBe('open');
    await beginStudy(registry, mira, { studyId: given.studyId });
    expect(await row(requestId)).toMatchObject({ state: 'taken', studies: [{ slug: given.slug }] });
    await abandonStudy(registry, mira, { studyId: given.studyId, reason: 'The loop is closed for a year.' });
    expect((await row(requestId)).state).toBe('open');

    const { studyId, slug } = await planStudy(registry, mira, planned(requestId));
    await beginStudy(registry, mira, { studyId });
    // A second one of the same leaves the request to the first, and those who asked hear of it.
    const second = await planStudy(registry, mira, planned(requestId));
    await beginStudy(registry, mira, { studyId: second.studyId });
    await abandonStudy(registry, mira, { studyId: second.studyId, reason: 'One of them is enough.' });
    expect((await row(requestId)).state).toBe('taken');
    await expect(closeRequest(registry, lea, { requestId })).rejects.toBeInstanceOf(Conflict);
    await guessing(studyId, slug);
    await completeStudy(registry, mira, { studyId });
    const late = { studyId, direction: 'less', size: '9' };
    await expect(guessStudy(registry, lea, late)).rejects.toBeInstanceOf(Conflict);
    expect((await readStudy(registry, undefined, slug))?.guesses).toMatchObject({
      count: 2,
      own: null,
      mayGuess: false,
      shown: [-2.5, 0],
    });
    expect((await row(requestId)).state).toBe('answered');
    const first = ['request.begin', 'request.abandon', 'request.begin'];
    const told = [...first, 'request.begin', 'request.abandon', 'request.complete'];
    expect(await newsOf(lea)).toEqual(told);
    // Who also guessed is told once.
    expect(await newsOf(pio)).toEqual(told);
    expect(await newsOf(mira)).toEqual([]);
    expect((await readStudy(registry, undefined, slug))?.request).toEqual({ id: requestId });
  });

  it('is answered only by a study of that car, class and factor', async () => {
    const { requestId: again } = await askForTest(registry, lea, asked());
    const { model } = await prisma.car.findUniqueOrThrow({
      where: { id: vehicle.carId },
      select: { model: { select: { id: true } } },
    });
    expect(model.id).toBe(vehicle.modelId);
    await expect(
      planStudy(registry, mira, { ...planned(again), cruiseClassKey: 'kmh-90' }),
    ).rejects.toBeInstanceOf(Conflict);
    const pia = await person(registry, 'Pia Moor');
    const { modelId } = await vehicleOf(registry, pia, 'Sund');
    const { carId } = await addCar(registry, pia, { modelId, name: 'Other' });
    expect((await planSubjects(registry, pia, again)).cars).toEqual([]);
    const of = { carId, loopId, cruiseClassKey: CLASS, requestId: again };
    expect((await newPlanForm(registry, pia, of)).request).toBeUndefined();
  });

  it('can be hidden by a steward, with a reason that whoever asked reads', async () => {
    const found = await prisma.testRequest.findFirstOrThrow({ where: { state: 'open' } });
    const hiding = { requestId: found.id, reason: 'It asks for more than the placard allows.' };
    await expect(hideRequest(registry, mira, hiding)).rejects.toBeInstanceOf(NotAllowed);
    await hideRequest(registry, stine, hiding);
    expect(await readRequest(registry, lea, found.id)).toBeUndefined();
    expect((await row(found.id, stine)).hiddenReason).toBe(hiding.reason);
    expect(await newsOf(lea)).toContain('request.hide');
    await expect(hideRequest(registry, stine, hiding)).rejects.toBeInstanceOf(NotFound);
    await expect(planStudy(registry, mira, planned(found.id))).rejects.toBeInstanceOf(NotFound);
  });

  it('is asked for five times a day by one account at most', async () => {
    const eager = await person(registry, 'Ea Rush', 'reader');
    for (const cruiseClassKey of [CLASS, 'kmh-90', 'kmh-130', 'mph-70', 'mph-75'].slice(0, 4)) {
      await askForTest(registry, eager, asked({ cruiseClassKey, isOther: true }));
    }
    const levels = (await readAskForm(registry, eager, { modelId: vehicle.modelId, classKey: CLASS })).pairs;
    const ofLevels = levels.filter(({ value }) => value.startsWith('levels'))[0]?.value;
    await askForTest(registry, eager, asked({ pair: ofLevels, isOther: true }));
    const sixth = asked({ pair: ofLevels, cruiseClassKey: 'kmh-90', isOther: true });
    await expect(askForTest(registry, eager, sixth)).rejects.toBeInstanceOf(TooSoon);
    clock.now = new Date(clock.now.getTime() + 25 * 60 * 60 * 1000);
    await askForTest(registry, eager, sixth);
  });
});
