import { describe, expect, it } from 'vitest';
import { type FieldSpec, suggestColumns } from '@/lib/capture/sheet/columns';

const energy: FieldSpec = {
  name: 'tripEnergy',
  label: 'Energy used',
  isRequired: true,
  units: ['kWh', 'Wh'],
};
const proposed = (heading: string) => suggestColumns({ rowNumber: 1, cells: [heading] }, [energy])[0];

describe('the unit in a heading', () => {
  it.each([
    ['Energy used (Wh)', 'Wh'],
    ['Energy used [ Wh ]', 'Wh'],
    ['Energy used Wh', 'Wh'],
    ['Energy used, Wh', 'Wh'],
    ['energy_used Wh', 'Wh'],
    ['tripEnergy_Wh', 'Wh'],
    ['Energy used', 'kWh'],
  ])('%s', (heading, unit) => {
    expect(proposed(heading)).toEqual({ field: 'tripEnergy', column: 0, unit });
  });

  it.each(['(', ')', '[ ', '_', ', ', '(a)', ' _('])('takes no time in a long heading of %s', (piece) => {
    const startedAt = performance.now();
    for (const end of ['', ' x', '!', ')', ' )x']) {
      expect(proposed(piece.repeat(2500) + end)).toBeUndefined();
    }
    expect(performance.now() - startedAt).toBeLessThan(300);
  });
});
