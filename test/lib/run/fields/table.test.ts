import { describe, expect, it } from 'vitest';
import { suggestColumns } from '@/lib/capture/sheet/columns';
import { IMPORT_FIELDS, importFieldsOf } from '@/lib/capture/sheet/importFields';
import { templateHeader } from '@/lib/capture/sheet/writeSheet';
import { rememberedUnits } from '@/lib/run/displayUnits';
import { CARD_STEPS, cardFields } from '@/lib/run/fields/cardSteps';
import type { ChoiceEntry, FieldEntry, QuantityEntry } from '@/lib/run/fields/entry';
import { fieldTitle } from '@/lib/run/fields/fieldWords';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import {
  CHOICE_FIELDS,
  PHOTO_FIELDS,
  QUANTITY_FIELDS,
  RUN_FIELDS,
  TEXT_FIELDS,
} from '@/lib/run/fields/table';
import { parseChoices, parseQuantities } from '@/lib/run/parseFields';
import { draftNames, formOrder, RUN_FORM_NAMES, RUN_FORM_ORDER } from '@/lib/run/runForm';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { UNITS } from '@/lib/units/unit';

const FIELDS: readonly FieldEntry[] = RUN_FIELDS;
const timesIn = (names: readonly string[], name: string) => names.filter((one) => one === name).length;

describe('each field of a run', () => {
  it.each(FIELDS.map((field) => [field.name, field] as const))(
    '%s stands once in everything that follows',
    (name, field) => {
      expect(
        timesIn(
          FIELDS.map((one) => one.name),
          name,
        ),
      ).toBe(1);
      expect(timesIn(RUN_FORM_ORDER, name)).toBe(1);
      expect(timesIn(RUN_FORM_NAMES, name)).toBe(field.kind === 'photo' ? 0 : 1);
      const asked = CARD_STEPS.flatMap((step) => [...step.quantities, ...step.choices, ...step.photos]);
      const isOfCard = field.card !== undefined;
      expect(
        timesIn(
          asked.map((one) => one.name),
          name,
        ),
      ).toBe(isOfCard ? 1 : 0);
      const columns = field.columns?.map((column) => column.name) ?? (field.kind === 'photo' ? [] : [name]);
      for (const column of columns)
        expect(
          timesIn(
            IMPORT_FIELDS.map((one) => one.name),
            column,
          ),
        ).toBe(1);
      const byKind = [QUANTITY_FIELDS, CHOICE_FIELDS, TEXT_FIELDS, PHOTO_FIELDS].flat();
      const isOwn = field.kind === 'subject' || field.kind === 'start';
      expect(
        timesIn(
          byKind.map((one) => one.name),
          name,
        ),
      ).toBe(isOwn ? 0 : 1);
      expect(RUN_SECTIONS.map(({ key }) => key)).toContain(field.section);
      expect(fieldTitle(name)).not.toBe(name);
    },
  );

  it('is all that a sheet has columns for', () => {
    const fed = FIELDS.flatMap((field) => field.columns?.map(({ name }) => name) ?? [field.name]);
    expect(IMPORT_FIELDS.map(({ name }) => name).filter((name) => !fed.includes(name))).toEqual([]);
  });

  it('has a heading that the import takes for no other field', () => {
    const header = { rowNumber: 1, cells: templateHeader(IMPORT_FIELDS) };
    expect(suggestColumns(header, IMPORT_FIELDS).map(({ field, column }) => [field, column])).toEqual(
      IMPORT_FIELDS.map(({ name }, at) => [name, at]),
    );
  });

  it('has a place of its own on the field card', () => {
    const places = FIELDS.flatMap(({ kind, card }) => (card ? [`${kind} ${card.step} ${card.place}`] : []));
    expect(new Set(places).size).toBe(places.length);
  });
});

it('measures each quantity in units of one dimension, between ends in order, and remembers the unit of each', () => {
  const remembered = rememberedUnits([], DEFAULT_PREFERENCES).last;
  for (const { name, units, range } of QUANTITY_FIELDS) {
    expect(new Set(units.map((unit) => UNITS[unit].dimension)).size).toBe(1);
    expect(range[0]).toBeLessThan(range[1]);
    expect(remembered[name]).toBe(units[0]);
  }
});

describe('a field more', () => {
  // Made up for this test: nothing but its entry and its words is added anywhere.
  const cabin: QuantityEntry = {
    kind: 'quantity',
    name: 'cabinTemperature',
    section: 'start',
    label: 'Cabin temperature',
    hint: 'By a thermometer at head height.',
    units: ['degC', 'degF'],
    moment: 'around',
    instrument: 'gauge',
    isRequired: true,
    allowNegative: true,
    range: [-40, 60],
    card: { step: 'before', place: 45 },
    aliases: ['inside'],
  };
  const windows: ChoiceEntry = {
    kind: 'choice',
    name: 'windows',
    section: 'start',
    label: 'Windows',
    hint: '',
    isRequired: false,
    options: [
      { value: 'shut', label: 'Shut' },
      { value: 'open', label: 'Open' },
    ],
    card: { step: 'before', place: 20 },
  };
  const fields: readonly FieldEntry[] = [...RUN_FIELDS, cabin, windows];

  it('is sent, kept and shown in its section', () => {
    expect(draftNames(fields)).toEqual(
      expect.arrayContaining(['cabinTemperature', 'cabinTemperatureUnit', 'windows']),
    );
    const order = formOrder(fields);
    expect(order.indexOf('windows')).toBe(order.indexOf('climate') + 1);
    expect(order.indexOf('cabinTemperature')).toBe(order.indexOf('auxiliaryPowerUnit') + 1);
    expect(
      order.filter((name) => !['cabinTemperature', 'cabinTemperatureUnit', 'windows'].includes(name)),
    ).toEqual(RUN_FORM_ORDER);
  });

  it('is parsed into a reading with its rounding interval, or into an issue with its own words', () => {
    const read = (text: string, unit: string) => {
      const issues: { path: string; what: string }[] = [];
      const form = { cabinTemperature: text, cabinTemperatureUnit: unit };
      return { issues, reading: parseQuantities([cabin], form, issues as never).cabinTemperature };
    };
    // 68 °F is 20 °C; half a degree Fahrenheit is 5/18 K (NIST SP 811, B.8).
    const { reading } = read('68', 'degF');
    expect(reading).toMatchObject({ instrument: 'gauge', moment: 'around', enteredUnit: 'degF' });
    expect(reading?.value).toBeCloseTo(20, 10);
    expect(reading?.high).toBeCloseTo(20 + 5 / 18, 10);
    expect(read('', 'degC').issues[0]?.what).toBe('Cabin temperature is missing.');
    expect(read('20', 'bar').issues[0]?.path).toBe('cabinTemperatureUnit');
    expect(read('90', 'degC').issues[0]).toMatchObject({ fix: 'Did the display say °F? Choose that unit.' });
    expect(parseChoices([windows], { windows: 'open' }, [])).toEqual({ windows: 'open' });
  });

  it('is asked for at its place on the field card', () => {
    const before = cardFields(
      fields.filter(({ kind }) => kind === 'quantity'),
      'before',
    ).map(({ name }) => name);
    expect(before.slice(3, 6)).toEqual(['placardRear', 'cabinTemperature', 'loadMass']);
  });

  it('has a column that its label, its name or an alias leads to, in the unit of the heading', () => {
    const columns = importFieldsOf(fields);
    for (const heading of ['Cabin temperature [°F]', 'cabin_temperature °F', 'Inside (degF)']) {
      expect(suggestColumns({ rowNumber: 1, cells: ['Car', heading] }, columns)).toContainEqual({
        field: 'cabinTemperature',
        column: 1,
        unit: 'degF',
      });
    }
    expect(columns.find(({ name }) => name === 'windows')?.holds).toBe('choice');
  });
});
