import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { type ColumnChoice, checkMapping, type FieldSpec, suggestColumns } from '@/lib/capture/sheet/columns';
import { parseCsvTable } from '@/lib/capture/sheet/csvTable';
import { type DryRun, dryRun, parseRowWith } from '@/lib/capture/sheet/dryRun';
import type { SheetTable } from '@/lib/capture/sheet/table';
import { templateHeader, writeCsv } from '@/lib/capture/sheet/writeSheet';
import { parseQuantity } from '@/lib/units/parse';
import { isUnitCode } from '@/lib/units/unit';

const fields: FieldSpec[] = [
  { name: 'tripDistance', label: 'Distance', isRequired: true, units: ['km', 'mi'], aliases: ['trip'] },
  { name: 'tripEnergy', label: 'Energy used', isRequired: true, units: ['kWh', 'Wh'] },
  { name: 'chargeStart', label: 'Charge at start', isRequired: false, units: ['%'] },
  { name: 'startedAt', label: 'Start', isRequired: true },
];
const quantity = (name: string) =>
  z.object({ [name]: z.string(), [`${name}Unit`]: z.string() }).transform((row, context) => {
    const unit = row[`${name}Unit`] ?? '';
    const parsed = isUnitCode(unit) ? parseQuantity(row[name] ?? '', unit) : null;
    if (parsed?.ok) return parsed.value;
    context.addIssue({ code: 'custom', path: [name], message: parsed?.message ?? 'unknown unit' });
    return z.NEVER;
  });
const schema = z
  .looseObject({
    startedAt: z
      .string({ error: 'Start is missing.' })
      .regex(/^\d{4}-\d\d-\d\d$/, 'Write the day as 2026-05-01.'),
  })
  .and(z.looseObject({}))
  .transform((row, context) => {
    const distance = quantity('tripDistance').safeParse(row);
    const energy = quantity('tripEnergy').safeParse(row);
    for (const result of [distance, energy]) {
      for (const issue of result.error?.issues ?? [])
        context.addIssue({ code: 'custom', path: issue.path, message: issue.message });
    }
    if (!distance.success || !energy.success) return z.NEVER;
    return {
      startedAt: row.startedAt,
      distanceM: distance.data,
      energyWh: energy.data,
      chargeStart: row.chargeStart as string | undefined,
    };
  });

function tableOf(text: string): SheetTable {
  const result = parseCsvTable(text);
  if (!result.ok) throw new Error(result.message);
  return result.table;
}
type Run = z.infer<typeof schema>;
function tryOut(
  table: SheetTable,
  mapping: readonly ColumnChoice[] = suggestColumns(table.header, fields),
  extra = {},
): DryRun<Run> {
  const result = dryRun<Run>(table, { fields, mapping, parse: parseRowWith(schema), ...extra });
  if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join(' '));
  return result;
}

describe('suggestColumns', () => {
  it('finds fields by name, label or alias, with the unit from the heading', () => {
    const { header } = tableOf(
      'Energy used [kWh],TRIP (mi),charge at start,"Start",trip_distance\n1,2,3,4,5',
    );
    expect(suggestColumns(header, fields)).toEqual([
      { field: 'tripDistance', column: 1, unit: 'mi' },
      { field: 'tripEnergy', column: 0, unit: 'kWh' },
      { field: 'chargeStart', column: 2, unit: '%' },
      { field: 'startedAt', column: 3 },
    ]);
    expect(suggestColumns(tableOf('distance_mi,energy used Wh\n1,2').header, fields)).toEqual([
      { field: 'tripDistance', column: 0, unit: 'mi' },
      { field: 'tripEnergy', column: 1, unit: 'Wh' },
    ]);
  });

  it('recognises every heading of its own template', () => {
    const { header } = tableOf(writeCsv(templateHeader(fields), [['1', '2', '3', '4']]));
    expect(suggestColumns(header, fields).map(({ field, column }) => [field, column])).toEqual(
      fields.map(({ name }, at) => [name, at]),
    );
  });
});

describe('checkMapping', () => {
  it('names columns used twice, beyond the sheet, in a foreign unit, and fields without any', () => {
    const { header } = tableOf('a,b\n1,2');
    const problems = checkMapping(header, fields, [
      { field: 'tripDistance', column: 0, unit: 'kWh' },
      { field: 'tripEnergy', column: 0, unit: 'kWh' },
      { field: 'chargeStart', column: 9, unit: '%' },
      { field: 'colour', column: 1 },
    ]);
    expect(problems.map(({ message }) => message)).toEqual([
      'Distance cannot be in kWh.',
      'Column A already goes to Distance.',
      'There is no column 10; the header ends at B.',
      'There is no such field.',
      'No column gives Start.',
    ]);
  });
});

describe('dryRun', () => {
  const text =
    'Start,Trip (mi),Energy used (kWh),Charge at start\n2026-05-01,66.8,32.9,90 %\n\n2026-05-02,66.8 mi,3x.9,90\n1 May,,30,\n2026-05-01,66.8,32.9,90\n2026-05-03,60,30,\n';

  it('says for each row what it would do, faults by cell', () => {
    const { rows, counts } = tryOut(tableOf(text), undefined, {
      keyOf: (run: Run) => `${run.startedAt} ${run.energyWh}`,
      findMatch: (run: Run) => (run.startedAt === '2026-05-03' ? 'run-17' : null),
    });
    expect(counts).toEqual({ create: 1, matched: 1, refused: 3 });
    expect(rows.map((row) => [row.rowNumber, row.outcome])).toEqual([
      [2, 'create'],
      [4, 'refused'],
      [5, 'refused'],
      [6, 'refused'],
      [7, 'matched'],
    ]);
    const first = rows[0];
    // 66.8 mi at 1609.344 m (NIST SP 811).
    expect(first?.outcome === 'create' && first.value.distanceM).toBeCloseTo(107_504.1792, 6);
    expect(first?.outcome === 'create' && first.value.chargeStart).toBe('90');
    const cells = rows.map((row) => (row.outcome === 'refused' ? row.problems.map(({ cell }) => cell) : []));
    expect(cells).toEqual([[], ['C4'], ['A5'], ['A6'], []]);
    const [, , , same] = rows;
    expect(same?.outcome === 'refused' && same.problems[0]?.message).toBe('The same as row 2.');
  });

  it('takes given values for every row, a filled cell first', () => {
    const table = tableOf('Trip (km),Energy used (kWh),Start\n100,20,\n100,20,2026-06-06\n');
    const { rows } = tryOut(table, undefined, { given: { startedAt: '2026-05-01' } });
    expect(rows.map((row) => row.outcome === 'create' && row.value.startedAt)).toEqual([
      '2026-05-01',
      '2026-06-06',
    ]);
  });

  it('refuses an unusable mapping as a whole', () => {
    expect(dryRun(tableOf('a\n1'), { fields, mapping: [], parse: parseRowWith(schema) })).toMatchObject({
      ok: false,
    });
  });

  it('does nothing with names that mean something to the language', () => {
    const odd: FieldSpec[] = [
      { name: '__proto__', label: 'x', isRequired: false },
      { name: 'constructor', label: 'y', isRequired: false },
    ];
    const result = dryRun(tableOf('x,y\n"{""a"":1}",b'), {
      fields: odd,
      mapping: suggestColumns(tableOf('x,y\n1,2').header, odd),
      parse: (form) => ({ ok: true, value: form }),
    });
    expect(result.ok && result.rows[0]?.outcome).toBe('create');
    expect(({} as Record<string, unknown>).a).toBeUndefined();
  });

  it('gives every filled row one outcome, whatever the cells', () => {
    const cell = fc.oneof(
      fc.string({ maxLength: 10 }),
      fc.constantFrom('66.8', '32.9', '2026-05-01', '=A1', '%'),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 10 }), (cells) => {
        const rows = cells
          .map((texts, at) => ({ rowNumber: at + 2, cells: texts }))
          .filter((row) => row.cells.some((text) => text !== ''));
        const header = { rowNumber: 1, cells: ['Start', 'Trip', 'Energy used', 'Charge at start'] };
        const result = tryOut({ sheetName: null, header, rows, above: [], blankRows: 0 });
        expect(result.rows.map(({ rowNumber }) => rowNumber)).toEqual(rows.map(({ rowNumber }) => rowNumber));
        expect(result.counts.create + result.counts.matched + result.counts.refused).toBe(rows.length);
        for (const row of result.rows)
          if (row.outcome === 'refused')
            for (const { cell: ref } of row.problems) expect(ref).toMatch(/^[A-D]\d+$/);
      }),
    );
  });
});

describe('writeCsv', () => {
  it('leaves nothing at the start of a cell that a program would calculate (OWASP, CSV Injection)', () => {
    for (const text of [
      '=1+1',
      '+1',
      '-1',
      '@SUM(A1)',
      '\t=1',
      '\r=1',
      '=HYPERLINK("http://example.org","x")',
      '＝1+1',
    ]) {
      const written = writeCsv(['a'], [[text]]);
      expect(written.split('\r\n')[1]?.replace(/^"/, '')).toMatch(/^'/);
    }
  });

  it('writes numbers bare, negative ones too, and nothing for what is no number', () => {
    expect(writeCsv(['a', 'b', 'c', 'd', 'e'], [[-1.5, 0, Number.NaN, null, true]])).toBe(
      'a,b,c,d,e\r\n-1.5,0,,,true\r\n',
    );
  });

  it('never lets a cell out of its quotes', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 15 }), { minLength: 2, maxLength: 4 }), (texts) => {
        const result = parseCsvTable(
          writeCsv(
            texts.map((_, at) => `h${at}`),
            [['row', ...texts.slice(1)]],
          ),
        );
        if (result.ok) expect(result.table.rows[0]?.cells).toHaveLength(texts.length);
        else expect(texts.join('')).toContain('\0');
      }),
    );
  });
});
