import { describe, expect, it } from 'vitest';
import { sheetReadingOf } from '@/app/(tester)/import/sheetReading';
import { sheetReadingSchema } from '@/lib/capture/sheet/importReport';

function posted(fields: Record<string, string>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) data.set(name, value);
  return data;
}

describe('the posted mapper', () => {
  it('says column, unit and fixed value of each field that has one', () => {
    const reading = sheetReadingOf(
      posted({
        'column.tripDistance': '3',
        'unit.tripDistance': 'mi',
        'column.carId': '0',
        'column.tripEnergy': '',
        'unit.tripEnergy': 'kWh',
        'given.climate': 'mild',
        'given.road': '  ',
        'column.nothingOfOurs': '4',
      }),
    );
    expect(reading).toEqual({
      columns: [
        { field: 'carId', column: 0 },
        { field: 'tripDistance', column: 3, unit: 'mi' },
      ],
      given: { climate: 'mild' },
      words: [],
    });
    expect(sheetReadingSchema.safeParse(reading).success).toBe(true);
  });

  it('takes the usual unit where none was sent, and no column that is not a number', () => {
    expect(
      sheetReadingOf(posted({ 'column.tripDistance': '2', 'column.tripEnergy': '1e9' })).columns,
    ).toEqual([{ field: 'tripDistance', column: 2, unit: 'km' }]);
  });
});
