import { describe, expect, it } from 'vitest';
import { dryRun } from '@/lib/capture/sheet/dryRun';
import { EXAMPLE_MARK, exampleCells } from '@/lib/capture/sheet/exampleRow';
import { habitsOf } from '@/lib/capture/sheet/habits';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { importRowParser } from '@/lib/capture/sheet/parseImportRow';
import { cellReader } from '@/lib/capture/sheet/readCells';
import { readSheet } from '@/lib/capture/sheet/readSheet';
import { suggestReading } from '@/lib/capture/sheet/suggestReading';
import { WordMeanings } from '@/lib/capture/sheet/words';
import { templateHeader, writeCsv, writeTemplate } from '@/lib/capture/sheet/writeSheet';
import { unitFieldName } from '@/lib/run/numberField';

const id = (digit: number) => `00000000-0000-4000-8000-00000000000${digit}`;
const NAMES = {
  cars: [{ id: id(1), name: 'Grey', setups: [{ id: id(2), name: 'As delivered' }] }],
  loops: [{ id: id(3), name: 'North causeway', postedLimitMps: 36.2 }],
};
const bytes = (text: string) => new TextEncoder().encode(text);

describe('the example in the template', () => {
  it('is a run that is taken as it stands, but for the name of the car', async () => {
    const cells = ['Grey', ...exampleCells(IMPORT_FIELDS).slice(1)];
    const { table } = await readSheet(bytes(writeCsv(templateHeader(IMPORT_FIELDS), [cells])));
    const { columns } = suggestReading(table, IMPORT_FIELDS);
    const habits = habitsOf(table, columns, IMPORT_FIELDS);
    expect(habits.problems).toEqual([]);
    const run = dryRun(table, {
      fields: IMPORT_FIELDS,
      mapping: columns,
      unitFieldName,
      readCell: cellReader(IMPORT_FIELDS, habits, new WordMeanings([])),
      parse: importRowParser(NAMES, '2026-11-01T12:00:00.000Z'),
    });
    if (!run.ok) throw new Error(JSON.stringify(run.problems));
    expect(run.rows.flatMap((row) => (row.outcome === 'refused' ? row.problems : []))).toEqual([]);
  });

  it('is left out of a template that comes back, as CSV and as XLSX', async () => {
    const own = IMPORT_FIELDS.map(({ name }) => (name === 'carId' ? 'Grey' : ''));
    const csv = writeCsv(templateHeader(IMPORT_FIELDS), [exampleCells(IMPORT_FIELDS), own]);
    expect(csv).toContain(EXAMPLE_MARK);
    const { table } = await readSheet(bytes(csv));
    expect(table.rows.map(({ rowNumber, cells }) => [rowNumber, cells[0]])).toEqual([[3, 'Grey']]);
    // Nothing but the example: as good as empty.
    await expect(readSheet(await writeTemplate(IMPORT_FIELDS))).rejects.toThrow('no rows under it');
  });
});
