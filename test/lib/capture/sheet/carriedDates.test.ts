import { describe, expect, it } from 'vitest';
import { datesLeftOut, withCarriedDates } from '@/lib/capture/sheet/carriedDates';
import { habitsOf } from '@/lib/capture/sheet/habits';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import type { SheetTable } from '@/lib/capture/sheet/table';

const COLUMNS = [
  { field: 'startDate', column: 1 },
  { field: 'startTime', column: 2 },
];

function tableOf(rows: readonly string[][]): SheetTable {
  return {
    sheetName: null,
    header: { rowNumber: 1, cells: ['Car', 'Date', 'Time of start'] },
    rows: rows.map((cells, at) => ({ rowNumber: at + 2, cells })),
    blankRows: 0,
    above: [],
  };
}

const day = tableOf([
  ['Grey', '', '08:00'],
  ['Grey', '2025-03-14', '09:10'],
  ['Grey', '', '10:30'],
  ['Grey'],
  ['Grey', '2025-03-15', '09:00'],
  ['Grey', '', '11:00'],
]);

describe('a date given once for several rows', () => {
  it('is asked about once, with where the first one stands and how many rows lack theirs', () => {
    expect(datesLeftOut(day, COLUMNS)).toEqual({ cell: 'B3', text: '2025-03-14', rows: 3 });
    const { problems } = habitsOf(day, COLUMNS, IMPORT_FIELDS);
    expect(problems).toEqual([
      {
        field: 'blankDates',
        message: expect.stringContaining('3 rows have no date, the first under “2025-03-14” in B3.'),
      },
    ]);
    expect(habitsOf(day, COLUMNS, IMPORT_FIELDS, { blankDates: 'missing' }).problems).toEqual([]);
  });

  it('is carried down to the next one, and never up', () => {
    expect(withCarriedDates(day, COLUMNS).rows.map(({ cells }) => cells[1])).toEqual([
      '',
      '2025-03-14',
      '2025-03-14',
      '2025-03-14',
      '2025-03-15',
      '2025-03-15',
    ]);
  });

  it('is nobody’s question where each row has one, or date and time stand in one cell', () => {
    const [, first, , , second] = day.rows;
    const full = { ...day, rows: [first, second].flatMap((row) => row ?? []) };
    expect(datesLeftOut(full, COLUMNS)).toBeUndefined();
    expect(datesLeftOut(day, [{ field: 'startedAtLocal', column: 1 }])).toBeUndefined();
    expect(withCarriedDates(day, [{ field: 'startedAtLocal', column: 1 }])).toBe(day);
  });
});
