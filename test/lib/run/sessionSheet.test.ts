import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FieldEntry } from '@/lib/run/fields/entry';
import { QUANTITY_FIELDS, RUN_FIELDS } from '@/lib/run/fields/table';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';
import {
  DAY_NAMES,
  dayFrom,
  inTimeOrder,
  offersFrom,
  otherThanDay,
  RUN_PART_NAMES,
  runPart,
  START_TIME,
  wholeForm,
  withDay,
} from '@/lib/run/sessionSheet';
import { completeForm } from '@/test/helpers/runForms';

const DAY = '2026-05-14';

/** Forms whose fields hold one of few texts, so that equal and unequal ones are both drawn. */
const someForm = fc.dictionary(fc.constantFrom(...RUN_FORM_NAMES), fc.constantFrom('1', '2', '3'), {
  maxKeys: 60,
});
const filled = (form: Record<string, string>) =>
  Object.fromEntries(Object.entries(form).filter(([, text]) => text !== ''));

describe('what a day shares', () => {
  it('covers the form with what each run has for itself, the start by its time alone', () => {
    const covered = new Set([...DAY_NAMES, ...RUN_PART_NAMES, 'startedAtLocal']);
    covered.delete(START_TIME);
    expect([...covered].toSorted()).toEqual([...RUN_FORM_NAMES].toSorted());
  });

  it('holds what is the same all day, and no reading of a finish', () => {
    for (const name of ['carId', 'loopId', 'cruiseClassKey', 'pressureFront', 'loadMass', 'conditionsSource'])
      expect(DAY_NAMES).toContain(name);
    const finish = RUN_FIELDS.filter(({ section }) => section === 'finish' || section === 'turnaround');
    for (const { name } of finish) expect(DAY_NAMES).not.toContain(name);
  });

  it('lets no field follow one that the table does not have, nor one in another dimension', () => {
    for (const { follows, units } of QUANTITY_FIELDS) {
      if (follows === undefined) continue;
      expect(QUANTITY_FIELDS.find(({ name }) => name === follows)?.units).toEqual(units);
    }
  });
});

describe('a day that changes', () => {
  it('reaches a draft that has the day’s value or none, and leaves what says otherwise', () => {
    const before = { carId: 'a', airTemperature: '12', airTemperatureUnit: 'degC' };
    const after = { carId: 'b', airTemperature: '13', airTemperatureUnit: 'degC', traffic: 'free' };
    expect(withDay({ ...before, tripEnergy: '30' }, before, after)).toEqual({ ...after, tripEnergy: '30' });
    const own = { ...before, airTemperature: '12.0' };
    expect(withDay(own, before, after)).toEqual({ ...after, airTemperature: '12.0' });
  });

  it('counts another unit as said otherwise', () => {
    const before = { loadMass: '90', loadMassUnit: 'kg' };
    const draft = { loadMass: '90', loadMassUnit: 'lb' };
    expect(withDay(draft, before, { loadMass: '95', loadMassUnit: 'kg' })).toEqual(draft);
  });

  it('takes back what the day no longer says', () => {
    expect(withDay({ windGust: '9', tripEnergy: '30' }, { windGust: '9' }, {})).toEqual({ tripEnergy: '30' });
  });

  it('never touches what is a run’s own, and changes nothing where the day stays', () => {
    fc.assert(
      fc.property(someForm, someForm, someForm, (draft, before, after) => {
        const own = (form: Record<string, string>) =>
          Object.fromEntries(Object.entries(form).filter(([name]) => !DAY_NAMES.includes(name)));
        expect(own(withDay(draft, before, after))).toEqual(own(draft));
        expect(withDay(withDay(draft, before, after), after, after)).toEqual(withDay(draft, before, after));
      }),
    );
  });
});

describe('a run’s own part', () => {
  it('gives the whole form back', () => {
    fc.assert(
      fc.property(someForm, someForm, (typed, day) => {
        const { startedAtLocal: _, ...form } = withDay(typed, day, day);
        // A unit without its number says nothing, so it is no part of what has to come back.
        const numbersAndTexts = (given: Record<string, string>) =>
          Object.fromEntries(Object.entries(filled(given)).filter(([name]) => !name.endsWith('Unit')));
        expect(numbersAndTexts(wholeForm(form, runPart(form, day), day, DAY))).toEqual(numbersAndTexts(form));
      }),
    );
  });

  it('asks for the time alone and keeps a date of its own', () => {
    const form = completeForm();
    const part = runPart(form, dayFrom(form, true));
    expect(part[START_TIME]).toBe('09:30');
    expect(wholeForm({}, part, {}, DAY).startedAtLocal).toBe(`${DAY}T09:30`);
    const late = wholeForm({ startedAtLocal: '2026-05-15T00:10' }, { [START_TIME]: '00:20' }, {}, DAY);
    expect(late.startedAtLocal).toBe('2026-05-15T00:20');
  });

  it('is what is read on the way, once the day has said the rest', () => {
    const form = completeForm();
    const day = dayFrom(form, true);
    const part = runPart(form, day);
    const required = RUN_FIELDS.filter(
      (field: FieldEntry) => field.isRequired && field.day === undefined && part[field.name] !== undefined,
    ).map(({ name }) => name);
    expect(required).toEqual([
      'setupId',
      'trueSpeed',
      'chargeStart',
      'tripDistance',
      'tripDuration',
      'chargeEnd',
      'closeFollowing',
    ]);
    expect(part.airTemperature).toBeUndefined();
    expect(otherThanDay(form, day)).toEqual([]);
    expect(otherThanDay({ ...form, road: 'wet' }, day)).toEqual(['road']);
  });
});

describe('a new day', () => {
  it('takes over what lasts and nothing that was measured', () => {
    const day = dayFrom(completeForm(), false);
    expect(day).toMatchObject({ cruiseClassKey: 'mph-70', utcOffsetMin: '60', placardFront: '2.90' });
    for (const name of ['pressureFront', 'airTemperature', 'windSpeed', 'stationDistance', 'traffic'])
      expect(day[name]).toBeUndefined();
  });
});

describe('what the last finish makes likely', () => {
  const before = { odometerEnd: '20 431', odometerEndUnit: 'mi', chargeEnd: '51', chargeEndUnit: '%' };

  it('is offered as it was typed, in its unit', () => {
    expect(offersFrom(before, {}).map(({ name, text, unit }) => [name, text, unit])).toEqual([
      ['chargeStart', '51', '%'],
      ['odometerStart', '20 431', 'mi'],
    ]);
  });

  it('is not offered over what was typed, nor without a run before', () => {
    expect(offersFrom(before, { chargeStart: '80', odometerStart: '20440' })).toEqual([]);
    expect(offersFrom(undefined, {})).toEqual([]);
  });
});

it('orders a day’s runs by their starts, those without one last', () => {
  const run = (number: number, startedAtLocal = '') => ({ number, form: { startedAtLocal } });
  const runs = [run(4), run(3, `${DAY}T11:00`), run(2), run(9, `${DAY}T09:00`)];
  expect(inTimeOrder(runs).map(({ number }) => number)).toEqual([9, 3, 2, 4]);
});
