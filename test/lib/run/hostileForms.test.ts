import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { saveDraftSchema } from '@/lib/registry/runs/saveDraft';
import { rememberedUnits } from '@/lib/run/displayUnits';
import { InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';
import { isStorableText, unstorablePath } from '@/lib/run/storableText';
import { readForm } from '@/lib/run/stored';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { completeForm } from '@/test/helpers/runForms';

const FIELDS = RUN_FORM_NAMES;
const EVERY_OBJECT_HAS = ['__proto__', 'constructor', 'toString', 'valueOf', 'hasOwnProperty'];
const HOSTILE = [
  ...EVERY_OBJECT_HAS,
  'a\0b',
  '\ud800',
  '\udc00x',
  '99999999999999999999',
  '-2147483649',
  '1e309',
  'Infinity',
];
const hostileText = fc.oneof(fc.constantFrom(...HOSTILE), fc.string({ unit: 'binary', maxLength: 40 }));
const context = { now: '2026-11-01T12:00:00Z' };

describe('a form in which a field holds what no keyboard types', () => {
  it('is refused or parsed, never thrown at, and no object is changed', () => {
    fc.assert(
      fc.property(fc.constantFrom(...FIELDS), hostileText, (name, text) => {
        const form = completeForm({ [name]: text });
        const sent = runFormSchema.safeParse(form);
        const parsed = parseRunForm(form, context);
        rememberedUnits([form, readForm(form)], DEFAULT_PREFERENCES);
        expect(Object.keys(Object.prototype)).toEqual([]);
        if (!isStorableText(text)) expect(sent.success).toBe(false);
        if (!parsed.ok) for (const issue of parsed.issues) expect(issue.what.length).toBeGreaterThan(5);
      }),
      { numRuns: 400 },
    );
  });

  it.each(['carId', 'setupId', 'loopId'])('takes no %s but a UUID or nothing', (name) => {
    for (const text of [...HOSTILE, 'car-1', '018f0000-0000-7000-8000-00000000000g']) {
      const sent = runFormSchema.safeParse({ [name]: text });
      expect(sent.success, text).toBe(false);
    }
    for (const text of ['', ' ', '018f0000-0000-7000-8000-000000000001'])
      expect(runFormSchema.safeParse({ [name]: text }).success).toBe(true);
  });

  it('takes no field name that every object has, nor one that is none', () => {
    for (const name of [...EVERY_OBJECT_HAS, 'a\0b', '\ud800', '', 'x'.repeat(61), 'a.b'])
      expect(runFormSchema.safeParse(JSON.parse(`{${JSON.stringify(name)}: "x"}`)).success, name).toBe(false);
  });

  it('takes no version that the database cannot count to', () => {
    const runId = '018f0000-0000-7000-8000-000000000001';
    for (const draftVersion of [0, -1, 1.5, 2_147_483_648, 1e300, Number.NaN, '1'])
      expect(() => parseInput(saveDraftSchema, { runId, draftVersion, form: {} })).toThrow(InvalidInput);
  });
});

describe('a form out of the store', () => {
  it('is a flat map of texts whatever was stored, with ids that can name something', () => {
    fc.assert(
      fc.property(fc.oneof(fc.json({ maxDepth: 3 }), fc.constant('{"__proto__": {"x": 1}}')), (text) => {
        const form = readForm(JSON.parse(text));
        for (const value of Object.values(form)) expect(typeof value).toBe('string');
        expect(Object.getPrototypeOf(form)).toBe(Object.prototype);
        expect(() => parseRunForm(form, context)).not.toThrow();
      }),
    );
  });

  it('keeps what was typed and takes an impossible id for none', () => {
    expect(readForm({ notes: ' as typed ', tripEnergy: 31.4, carId: '__proto__', windFrom: null })).toEqual({
      notes: ' as typed ',
      carId: '',
    });
    expect(readForm(completeForm())).toEqual(completeForm());
    for (const odd of [null, [], 'text', 7]) expect(readForm(odd)).toEqual({});
  });
});

describe('the edge of every use case', () => {
  const anything = z.unknown();

  it('takes no text that cannot be stored, wherever it stands', () => {
    const bad = fc.constantFrom('a\0b', '\ud800', 'x\udfff');
    fc.assert(
      fc.property(
        bad,
        fc.array(fc.constantFrom('a', 'b', '0'), { maxLength: 5 }),
        fc.boolean(),
        (text, path, asName) => {
          const leaf: unknown = asName ? { [text]: 'x' } : text;
          const sent = path.reduceRight<unknown>((inner, name) => ({ [name]: inner, other: 'fine' }), leaf);
          expect(unstorablePath(sent)).toBe(path.join('.'));
          expect(() => parseInput(anything, sent)).toThrow(InvalidInput);
        },
      ),
    );
  });

  it('lets everything else through, pairs of surrogates and bytes too, however deep', () => {
    expect(unstorablePath({ notes: 'a car 🚗', bytes: new Uint8Array([0, 0]) })).toBeUndefined();
    let deep: unknown = 'x';
    for (let i = 0; i < 100_000; i++) deep = [deep];
    expect(unstorablePath(deep)).toBeUndefined();
  });
});
