import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeForms, settled } from '@/lib/run/mergeForms';
import type { RunForm } from '@/lib/run/runForm';

const TEXTS = ['', '', '18', '18.4', '  '];
const form = fc.record(
  {
    carId: fc.constantFrom('', 'a', 'b'),
    chargeStart: fc.constantFrom(...TEXTS),
    chargeStartUnit: fc.constant('pct'),
    tripEnergy: fc.constantFrom(...TEXTS),
    tripEnergyUnit: fc.constantFrom('kWh', 'Wh'),
    startedAtLocal: fc.constantFrom('', '2026-05-01T09:00', '2026-05-01T10:00'),
    utcOffsetMin: fc.constantFrom('0', '60'),
    notes: fc.constantFrom('', 'rain\r\nlater', 'rain\nlater', 'dry'),
  },
  { requiredKeys: [] },
) as fc.Arbitrary<RunForm>;

const PAIRS = new Map([
  ['chargeStart', 'chargeStartUnit'],
  ['tripEnergy', 'tripEnergyUnit'],
  ['startedAtLocal', 'utcOffsetMin'],
]);

/** What a form answers, field by field; what stands beside an empty field is none. */
function answers(of: RunForm): Map<string, string> {
  const found = new Map<string, string>();
  for (const name of ['carId', 'chargeStart', 'tripEnergy', 'startedAtLocal', 'notes']) {
    const text = (of[name] ?? '').replaceAll('\r\n', '\n');
    if (text.trim() === '') continue;
    found.set(name, `${text}|${of[PAIRS.get(name) ?? ''] ?? ''}`);
  }
  return found;
}

describe('two versions of a draft', () => {
  it('are the same merged from either side where nothing is asked', () => {
    fc.assert(
      fc.property(form, form, form, (base, mine, theirs) => {
        const [here, there] = [mergeForms(base, mine, theirs), mergeForms(base, theirs, mine)];
        expect(there.asked).toEqual(
          here.asked.map(({ name, mine: ours, theirs: others }) => ({ name, mine: others, theirs: ours })),
        );
        if (here.asked.length === 0) expect(answers(there.form)).toEqual(answers(here.form));
      }),
    );
  });

  it('lose no value that either side typed, and empty none unasked', () => {
    fc.assert(
      fc.property(form, form, form, (base, mine, theirs) => {
        const { form: merged, asked } = mergeForms(base, mine, theirs);
        const open = new Set(asked.map(({ name }) => name));
        const all = [answers(mine), answers(theirs)];
        for (const side of all) {
          for (const [name, value] of side) {
            if (open.has(name)) {
              const offered = asked.find((one) => one.name === name);
              expect([offered?.mine, offered?.theirs].map((part) => answers(part ?? {}).get(name))).toContain(
                value,
              );
            } else if (value === answers(base).get(name)) {
              expect(answers(merged).has(name)).toBe(true);
            } else {
              expect(answers(merged).get(name)).toBe(value);
            }
          }
        }
      }),
    );
  });

  it('that changed different fields have both changes', () => {
    const merged = mergeForms(
      { chargeStart: '80', chargeStartUnit: 'pct', notes: 'dry' },
      { chargeStart: '82', chargeStartUnit: 'pct', notes: 'dry' },
      { chargeStart: '80', chargeStartUnit: 'pct', notes: 'rain', tripEnergy: '13.1', tripEnergyUnit: 'kWh' },
    );
    expect(merged.asked).toEqual([]);
    expect(merged.taken).toEqual(['tripEnergy', 'notes']);
    expect(Object.fromEntries(answers(merged.form))).toEqual({
      chargeStart: '82|pct',
      notes: 'rain|',
      tripEnergy: '13.1|kWh',
    });
  });

  it('never take a number from one side and its unit from the other', () => {
    const base = { tripEnergy: '13.1', tripEnergyUnit: 'kWh' };
    const merged = mergeForms(base, { ...base, tripEnergy: '13.2' }, { ...base, tripEnergyUnit: 'Wh' });
    expect(merged.asked).toEqual([
      {
        name: 'tripEnergy',
        mine: { tripEnergy: '13.2', tripEnergyUnit: 'kWh' },
        theirs: { tripEnergy: '13.1', tripEnergyUnit: 'Wh' },
      },
    ]);
  });

  it('are merged by a day’s own names as well, a number with its unit', () => {
    const names = [
      'day.loadMass',
      'day.loadMassUnit',
      'day.notes',
      'startTime',
      'tripEnergy',
      'tripEnergyUnit',
    ];
    const base = { 'day.loadMass': '80', 'day.loadMassUnit': 'kg', 'day.notes': 'dry', tripEnergy: '13.1' };
    const mine = { ...base, 'day.loadMass': '90', tripEnergy: '13.2', startTime: '09:10' };
    const theirs = { ...base, 'day.loadMassUnit': 'lb', 'day.notes': 'rain' };
    const merged = mergeForms(base, mine, theirs, names);
    expect(merged.asked).toEqual([
      {
        name: 'day.loadMass',
        mine: { 'day.loadMass': '90', 'day.loadMassUnit': 'kg' },
        theirs: { 'day.loadMass': '80', 'day.loadMassUnit': 'lb' },
      },
    ]);
    expect(merged.taken).toEqual(['day.notes']);
    expect(settled(merged, new Map([['day.loadMass', 'theirs']]))).toEqual({
      'day.loadMass': '80',
      'day.loadMassUnit': 'lb',
      'day.notes': 'rain',
      tripEnergy: '13.2',
      startTime: '09:10',
    });
  });

  it('ask before a value goes that only one side emptied', () => {
    const base = { chargeStart: '80', chargeStartUnit: 'pct' };
    for (const [mine, theirs] of [
      [{}, base],
      [base, {}],
      [{}, { ...base, chargeStart: '81' }],
    ] as const) {
      expect(mergeForms(base, mine, theirs).asked.map(({ name }) => name)).toEqual(['chargeStart']);
    }
    expect(mergeForms(base, {}, {}).asked).toEqual([]);
  });

  it('end with what was chosen', () => {
    fc.assert(
      fc.property(form, form, form, fc.constantFrom('mine', 'theirs'), (base, mine, theirs, side) => {
        const merged = mergeForms(base, mine, theirs);
        const end = settled(merged, new Map(merged.asked.map(({ name }) => [name, side])));
        const chosen = answers(side === 'mine' ? mine : theirs);
        for (const { name } of merged.asked) expect(answers(end).get(name)).toBe(chosen.get(name));
        const open = new Set(merged.asked.map(({ name }) => name));
        for (const [name, value] of answers(merged.form)) {
          if (!open.has(name)) expect(answers(end).get(name)).toBe(value);
        }
      }),
    );
  });
});
