import { describe, expect, it } from 'vitest';
import { newFieldDay, runOfDay } from '@/app/(field)/field/fieldDay';
import {
  carChosen,
  clockStarted,
  clockStopped,
  clockWords,
  drivenHere,
  elapsedMs,
  hasContent,
  loopChosen,
} from '@/app/(field)/field/fieldRun';
import { askedOf, changedElsewhere, conflictSettled, typed } from '@/app/(field)/field/keptForm';
import { keptState, keptWords, mayWipe, nextSend } from '@/app/(field)/field/sendPlan';
import { fittedSize } from '@/app/(field)/field/shrinkPhoto';
import { nameOfChosen } from '@/app/(tester)/record/chosenName';
import { CARD_STEPS, stepBeside } from '@/lib/run/fields/cardSteps';
import { cardTitle } from '@/lib/run/fields/fieldWords';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { parseLocalStart } from '@/lib/run/localStart';
import { nextToDrive, type StudyToDrive } from '@/lib/study/nextToDrive';
import { card, LISTS, photo } from './cards';

const server = (form: Record<string, string>) => ({ runId: 'r', number: 7, version: 3, form });

describe('the steps of a drive', () => {
  it('lead from before to plugged in and end there', () => {
    const walked: string[] = ['before'];
    for (let step = stepBeside('before', 1); step !== undefined; step = stepBeside(step, 1))
      walked.push(step);
    expect(walked).toEqual(['before', 'start', 'turnaround', 'finish', 'pluggedIn']);
    expect(stepBeside('before', -1)).toBeUndefined();
  });

  it('ask each number once, and every number that a display shows on the road', () => {
    const asked: string[] = CARD_STEPS.flatMap(({ quantities }) => quantities.map(({ name }) => name));
    expect(new Set(asked).size).toBe(asked.length);
    const required = QUANTITY_FIELDS.filter((field) => field.isRequired && field.section !== 'conditions');
    for (const { name } of required) expect(asked).toContain(name);
  });
});

describe('a card', () => {
  it('takes the units of the chosen car, but not for a number already typed', () => {
    const started = typed(card(), 'tripDistance', '66.8');
    const chosen = carChosen(started, 'car-a', LISTS);
    expect(chosen.form).toMatchObject({
      carId: 'car-a',
      tripDistanceUnit: 'km',
      tripEfficiencyUnit: 'mi/kWh',
    });
    expect(carChosen(chosen, 'car-b', LISTS).form.tripEfficiencyUnit).toBe('kWh/100km');
  });

  it('lets go of a setup of another model and of a class above the limit, and takes the only setup', () => {
    const chosen = typed(carChosen(card(), 'car-a', LISTS), 'setupId', 'setup-2');
    expect(carChosen(chosen, 'car-a', LISTS).form.setupId).toBe('setup-2');
    expect(carChosen(chosen, 'car-b', LISTS).form.setupId).toBe('setup-3');
    const fast = typed(loopChosen(card(), 'loop-a', LISTS), 'cruiseClassKey', 'kmh-110');
    expect(loopChosen(fast, 'loop-a', LISTS).form.cruiseClassKey).toBe('kmh-110');
    expect(loopChosen(fast, 'loop-b', LISTS).form.cruiseClassKey).toBe('');
  });

  it('starts its clock with the wall clock and offset of the phone, which give the instant back', () => {
    const now = new Date('2026-05-14T07:30:20Z');
    const run = clockStarted(card(), now);
    expect(run.startedAtMs).toBe(now.getTime());
    const start = parseLocalStart(
      run.form.startedAtLocal ?? '',
      run.form.utcOffsetMin ?? '',
      now.toISOString(),
      [],
    );
    expect(start?.startedAt).toBe('2026-05-14T07:30:00.000Z');
  });

  it('counts from the kept instant until it is stopped, and anew when started again', () => {
    const run = clockStarted(card(), new Date(10_000));
    expect(elapsedMs(card(), 99)).toBeUndefined();
    expect(elapsedMs(run, 3_671_000)).toBe(3_661_000);
    expect(clockWords(3_661_000)).toBe('1:01:01');
    const over = clockStopped(run, 70_000);
    expect(elapsedMs(over, 9_999_999)).toBe(60_000);
    expect(elapsedMs(clockStarted(over, new Date(100_000)), 101_000)).toBe(1000);
    // A phone whose clock is put back shows nothing negative.
    expect(elapsedMs(run, 5000)).toBe(0);
  });
});

describe('what is sent next', () => {
  it('is nothing of an empty card, then the run, then its form, then its photos', () => {
    const empty = card();
    expect(hasContent(empty, [])).toBe(false);
    expect(nextSend(empty, [])).toEqual({ kind: 'nothing' });
    const filled = typed(empty, 'chargeStart', '80');
    expect(nextSend(filled, []).kind).toBe('open');
    expect(nextSend(empty, [photo()]).kind).toBe('open');
    const opened = { ...filled, server: server(filled.form) };
    expect(nextSend(opened, []).kind).toBe('nothing');
    expect(nextSend(typed(opened, 'chargeStart', '81'), [photo()]).kind).toBe('save');
    expect(nextSend(opened, [photo({ sentAtMs: 5 }), photo({ id: 'second' })])).toMatchObject({
      kind: 'photo',
      photo: { id: 'second' },
    });
  });

  it('waits for the tester in a conflict, and for a change after a refusal', () => {
    const filled = { ...typed(card(), 'chargeStart', '80'), server: server({}) };
    const conflict = { version: 9, form: { chargeStart: '70' }, isEditable: true };
    expect(nextSend({ ...filled, conflict }, [photo()]).kind).toBe('nothing');
    const refused = { ...filled, refusal: { message: 'no', form: filled.form } };
    expect(nextSend(refused, []).kind).toBe('nothing');
    expect(nextSend(typed(refused, 'chargeStart', '79'), []).kind).toBe('save');
  });

  it('is first of all what left without an answer, even when it was typed back since', () => {
    const filled = typed(card(), 'chargeStart', '80');
    const back = { ...filled, server: server(filled.form), underway: { ...filled.form, chargeStart: '81' } };
    expect(nextSend(back, []).kind).toBe('save');
  });

  it('is told in words, and nothing unsent may be wiped', () => {
    const filled = typed(card(), 'chargeStart', '80');
    const sent = { ...filled, server: server(filled.form) };
    expect([keptWords(filled, []), mayWipe(filled, [])]).toEqual(['Kept on this phone, not sent yet', false]);
    expect([keptWords(sent, []), mayWipe(sent, [])]).toEqual(['Sent as run 7', true]);
    expect([keptState(sent, [photo()]), mayWipe(sent, [photo()])]).toEqual(['kept', false]);
    expect(mayWipe(sent, [photo({ refusal: 'too large' })])).toBe(false);
    expect(mayWipe(card(), [])).toBe(true);
  });
});

describe('a change made elsewhere', () => {
  const base = { chargeStart: '80', notes: 'dry' };
  const run = (form: Record<string, string>) => ({ ...card({ form }), server: server(base) });
  const draft = (form: Record<string, string>, isEditable = true) => ({
    server: { ...server(form), version: 9 },
    isEditable,
  });

  it('of other fields is taken over, told and sent back together', () => {
    const merged = changedElsewhere(
      run({ ...base, chargeEnd: '51' }),
      draft({ ...base, notes: 'rain' }),
      base,
    );
    expect(merged.form).toEqual({ chargeStart: '80', chargeEnd: '51', notes: 'rain' });
    expect([merged.taken, merged.conflict]).toEqual([['notes'], undefined]);
    expect(nextSend(merged, [])).toEqual({ kind: 'save' });
  });

  it('of the same field waits for the choice of each', () => {
    const mine = { chargeStart: '81', notes: 'wet' };
    const torn = changedElsewhere(run(mine), draft({ chargeStart: '70', notes: 'rain' }), base);
    expect(nextSend(torn, []).kind).toBe('nothing');
    expect(askedOf(torn).asked.map(({ name }) => name)).toEqual(['chargeStart', 'notes']);
    const chosen = new Map([
      ['chargeStart', 'mine'],
      ['notes', 'theirs'],
    ] as const);
    const settled = conflictSettled(torn, chosen);
    expect(settled.form).toEqual({ chargeStart: '81', notes: 'rain' });
    expect(nextSend(settled, [])).toEqual({ kind: 'save' });
    const all = new Map([...chosen.keys()].map((name) => [name, 'theirs'] as const));
    const theirs = conflictSettled(torn, all);
    expect(keptState(theirs, [])).toBe('sent');
  });

  it('that submitted the run leaves nothing to choose', () => {
    const closed = changedElsewhere(run({ chargeStart: '81' }), draft(base, false), base);
    expect(conflictSettled(closed, new Map()).form).toEqual(base);
  });

  it('is shown by names and labels', () => {
    expect([cardTitle('carId'), cardTitle('tripDistanceUnit'), cardTitle('climate')]).toEqual([
      'Car',
      'Distance, unit',
      'Climate setting during the run',
    ]);
    expect(nameOfChosen('carId', 'car-a', LISTS)).toBe('Skerry');
    expect(nameOfChosen('setupId', 'setup-2', LISTS)).toBe('ride height low');
    expect(nameOfChosen('notes', 'car-a', LISTS)).toBeUndefined();
  });
});

describe('a planned run', () => {
  const study: StudyToDrive = {
    studyId: 'study',
    slug: 'low',
    question: 'Does low use less?',
    loopId: 'loop-a',
    cruiseClassKey: 'kmh-110',
    carIds: ['car-a'],
    setups: [
      { id: 'setup-1', title: 'as delivered', letter: 'A' },
      { id: 'setup-2', title: 'ride height low', letter: 'B' },
    ],
    days: [['setup-1', 'setup-2', 'setup-2', 'setup-1']],
    runs: [],
  };
  const here = { day: '2026-05-14', carId: 'car-a' };
  const { loopId, cruiseClassKey } = study;
  const subjects = { carId: 'car-a', loopId, cruiseClassKey };
  const day = newFieldDay('key-of-a-day', LISTS, { nowMs: 0, last: {}, subjects });
  const planned = (setupId: string, changes = {}) => {
    const run = runOfDay(card(), day, setupId, LISTS);
    return { ...run, form: { ...run.form, startedAtLocal: '2026-05-14T09:00' }, ...changes };
  };

  it('begins with car, setup, loop, class and the units of the car', () => {
    expect(planned('setup-2').form).toMatchObject({
      carId: 'car-a',
      setupId: 'setup-2',
      loopId: 'loop-a',
      cruiseClassKey: 'kmh-110',
      tripDistanceUnit: 'mi',
    });
  });

  it('follows what this phone noted without a signal, and counts what the server has of it once', () => {
    const noted = [
      planned('setup-2', { createdAtMs: 2 }),
      planned('setup-1', { createdAtMs: 1, server: server({}) }),
      // of another day, and of no study
      planned('setup-1', {
        createdAtMs: 3,
        form: { ...planned('setup-1').form, startedAtLocal: '2026-05-13T09:00' },
      }),
      planned('setup-1', { createdAtMs: 4, form: { ...planned('setup-1').form, loopId: 'loop-b' } }),
    ];
    const sent = { ...study, runs: [{ number: 7, setupId: 'setup-1', ...here }] };
    const known = drivenHere(noted, sent, here);
    expect(known.runs).toEqual([
      { number: 7, setupId: 'setup-1' },
      { number: undefined, setupId: 'setup-2' },
    ]);
    expect(nextToDrive(sent, known)).toMatchObject({ driven: ['setup-1', 'setup-2'], setupId: 'setup-2' });
  });
});

describe('a photo', () => {
  it('is made to fit in proportion and never enlarged', () => {
    expect(fittedSize(4000, 3000)).toEqual({ widthPx: 2000, heightPx: 1500 });
    expect(fittedSize(3000, 6000)).toEqual({ widthPx: 1000, heightPx: 2000 });
    expect(fittedSize(640, 480)).toEqual({ widthPx: 640, heightPx: 480 });
    expect(fittedSize(40_000, 3)).toEqual({ widthPx: 2000, heightPx: 1 });
  });
});
