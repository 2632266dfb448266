import { describe, expect, it } from 'vitest';
import { entryChanges } from '@/lib/run/fields/entryChanges';
import { completeForm } from '@/test/helpers/runForms';

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
