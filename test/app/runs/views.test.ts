import { describe, expect, it } from 'vitest';
import { shownFindings } from '@/lib/protocol/runFindings';
import { entryChanges } from '@/lib/run/fields/entryChanges';
import { shownReadings } from '@/lib/run/fields/shownReadings';
import { choiceLabel } from '@/lib/run/fields/table';
import { completeForm } from '@/test/helpers/runForms';

const reading = (changes: Partial<Parameters<typeof shownReadings>[0][number]>) => ({
  quantity: 'tripEnergy',
  moment: 'finish',
  instrument: 'carDisplay',
  enteredText: '32.9',
  enteredUnit: 'kWh',
  value: 32_900,
  low: 32_850,
  high: 32_950,
  ...changes,
});

describe('readings as shown', () => {
  it('follow the form’s order, whatever order they were stored in', () => {
    const shown = shownReadings([
      reading({}),
      reading({
        quantity: 'chargeStart',
        enteredUnit: '%',
        enteredText: '80',
        value: 0.8,
        low: 0.795,
        high: 0.805,
      }),
    ]);
    expect(shown.map((one) => [one.quantity, one.unit])).toEqual([
      ['chargeStart', '%'],
      ['tripEnergy', 'Wh'],
    ]);
    expect(shown[1]).toMatchObject({ enteredText: '32.9', enteredUnit: 'kWh', value: 32_900, low: 32_850 });
  });

  it('do not call hours and minutes minutes', () => {
    const [time] = shownReadings([
      reading({ quantity: 'tripDuration', enteredText: '0:46', enteredUnit: 'min', value: 2760 }),
    ]);
    expect(time?.enteredUnit).toBe('h:mm');
  });

  it('name choices in the words of the form, and keep a value that the form no longer has', () => {
    expect(choiceLabel('pressureKind', 'qnh')).toBe('Altimeter setting (QNH)');
    expect(choiceLabel('pressureKind', 'fromBefore')).toBe('fromBefore');
  });
});

describe('findings', () => {
  const finding = (ruleId: string, outcome: 'pass' | 'caution' | 'fail' | 'notChecked', label = '1.0') => ({
    ruleId,
    outcome,
    numbers: [],
    sentence: `${ruleId} found`,
    protocolVersion: { label },
  });

  it('come with fails before cautions, and none is lost', () => {
    const rows = [
      finding('wind', 'caution'),
      finding('loop-closure-distance', 'pass'),
      finding('road-load-scale', 'fail'),
      finding('legs-share-route', 'notChecked'),
      finding('a-rule-of-old', 'caution'),
    ];
    const shown = shownFindings(rows, '1.0');
    expect(shown.notable.map((one) => one.ruleId)).toEqual(['road-load-scale', 'wind', 'a-rule-of-old']);
    expect(shown.notable.length + shown.passed.length + shown.notChecked.length).toBe(rows.length);
    expect(shown.counts).toEqual({ pass: 1, caution: 2, fail: 1, notChecked: 1 });
    expect(shown.notable.at(-1)).toMatchObject({ title: 'A rule of old', isKnown: false });
    expect(shown.notable.at(-1)?.sentence).toBe('a-rule-of-old found');
    expect(shown.notable[0]?.isKnown).toBe(true);
  });

  it('are those of the version that the revision is pinned to', () => {
    const shown = shownFindings([finding('wind', 'fail', '2.0'), finding('wind', 'pass')], '1.0');
    expect(shown.notable).toEqual([]);
    expect(shown.passed).toHaveLength(1);
  });
});

describe('what a resubmission changed', () => {
  it('is nothing for the same form', () => {
    expect(entryChanges(completeForm(), completeForm())).toEqual([]);
  });

  it('is read in the words and units of the form', () => {
    const changes = entryChanges(
      completeForm(),
      completeForm({
        tripEnergy: '33.9',
        windSpeedUnit: 'kn',
        windSpeed: '9',
        road: 'damp',
        notes: 'Corrected.',
      }),
    );
    const byKey = new Map(changes.map((change) => [change.key, change]));
    expect(byKey.get('tripEnergy')).toMatchObject({ before: '32.9 kWh', after: '33.9 kWh' });
    expect(byKey.get('windSpeed')?.after).toBe('9 kn');
    expect(byKey.get('road')).toMatchObject({ before: 'Dry', after: 'Damp' });
    expect(byKey.get('notes')?.after).toBe('Corrected.');
  });

  it('sees a unit alone, and an entry taken away', () => {
    const { loadMass: _gone, ...without } = completeForm({ tripEnergyUnit: 'Wh' });
    const changes = entryChanges(completeForm(), without);
    expect(changes.map((change) => [change.key, change.after])).toEqual([
      ['loadMass', ''],
      ['tripEnergy', '32.9 Wh'],
    ]);
  });

  it('tells that another setup was chosen without showing ids', () => {
    const changes = entryChanges(completeForm(), completeForm({ setupId: 'another' }));
    expect(changes).toHaveLength(1);
    expect(changes[0]?.label).toBe('Setup');
    expect(changes[0]?.after).not.toContain('another');
  });
});
