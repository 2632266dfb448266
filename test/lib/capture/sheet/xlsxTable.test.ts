import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { tableLimits } from '@/lib/capture/sheet/table';
import { unpackWorkbook } from '@/lib/capture/sheet/unpack';
import { writeTemplate, writeXlsx } from '@/lib/capture/sheet/writeSheet';
import { parseXlsxTable } from '@/lib/capture/sheet/xlsxTable';

async function bytesOf(
  fill: (sheet: ExcelJS.Worksheet, workbook: ExcelJS.Workbook) => void,
): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  fill(workbook.addWorksheet('Runs'), workbook);
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}
/** Changes the text of one part of a workbook. */
function edit(bytes: Uint8Array, part: string, change: (text: string) => string): Uint8Array {
  const files = unzipSync(bytes);
  files[part] = strToU8(change(new TextDecoder().decode(files[part])));
  return zipSync(files as Zippable);
}
const message = async (bytes: Uint8Array) => {
  const result = await parseXlsxTable(bytes);
  return result.ok ? 'accepted' : result.message;
};
const megabyte = 1024 * 1024;
const sheetPart = 'xl/worksheets/sheet1.xml';

describe('parseXlsxTable', () => {
  it('keeps texts as shown: decimals of the format, percent, dates without a zone, results of formulas', async () => {
    const bytes = await bytesOf((sheet) => {
      sheet.addRow(['efficiency', 'charge', 'day', 'start', 'sum', 'rich', 'note', 'float', 'yes']);
      sheet.addRow([
        2.3,
        0.42,
        new Date(Date.UTC(2026, 4, 1)),
        new Date(Date.UTC(2026, 4, 1, 8, 30)),
        { formula: 'A2*2', result: 4.6 },
        { richText: [{ text: '66' }, { text: '.8' }] },
        { text: 'see', hyperlink: 'https://example.org' },
        0.1 + 0.2,
        true,
      ]);
      sheet.getCell('A2').numFmt = '0.00';
      sheet.getCell('B2').numFmt = '0%';
      sheet.getCell('C2').numFmt = 'yyyy-mm-dd';
      sheet.getCell('D2').numFmt = 'yyyy-mm-dd hh:mm';
    });
    const result = await parseXlsxTable(bytes);
    if (!result.ok) throw new Error(result.message);
    expect(result.table.rows[0]?.cells).toEqual([
      '2.30',
      '42 %',
      '2026-05-01',
      '2026-05-01 08:30:00',
      '4.6',
      '66.8',
      'see',
      '0.3',
      'true',
    ]);
  });

  it('keeps the numbers of rows and columns over holes, and finds the sheet by name', async () => {
    const bytes = await bytesOf((sheet, workbook) => {
      sheet.getCell('B3').value = 'distance';
      sheet.getCell('D3').value = 'energy';
      sheet.getCell('D9').value = 32.9;
      workbook.addWorksheet('Other').getCell('A1').value = 'x';
    });
    const result = await parseXlsxTable(bytes);
    if (!result.ok) throw new Error(result.message);
    expect(result.sheetNames).toEqual(['Runs', 'Other']);
    expect(result.table.header).toEqual({ rowNumber: 3, cells: ['', 'distance', '', 'energy'] });
    expect(result.table.rows).toEqual([{ rowNumber: 9, cells: ['', '', '', '32.9'] }]);
    const other = await parseXlsxTable(bytes, 'Other');
    expect(other.ok && other.table.sheetName).toBe('Other');
    expect(await parseXlsxTable(bytes, 'None')).toMatchObject({
      ok: false,
      message: 'There is no sheet “None”.',
    });
  });

  it('reads back what the writer wrote, formulas as texts', async () => {
    const rows = [
      ['=1+1', '+2', '-3', '@SUM(A1)', 5, -6.5],
      ['a "b"', 'c,d', '', 'é', 0, 1e-7],
    ];
    const bytes = await writeXlsx('A/B: test', ['a', 'b', 'c', 'd', 'e', 'f'], rows);
    expect(new TextDecoder().decode(unzipSync(bytes)[sheetPart])).not.toContain('<f>');
    const result = await parseXlsxTable(bytes);
    if (!result.ok) throw new Error(result.message);
    expect(result.table.rows.map(({ cells }) => cells)).toEqual([
      ['=1+1', '+2', '-3', '@SUM(A1)', '5', '-6.5'],
      ['a "b"', 'c,d', '', 'é', '0', '1e-7'],
    ]);
  });

  it('makes a template with one heading a field', async () => {
    const bytes = await writeTemplate([
      { name: 'tripDistance', label: 'Distance', isRequired: true, units: ['km', 'mi'] },
      { name: 'notes', label: 'Notes', isRequired: false },
    ]);
    const result = await parseXlsxTable(bytes);
    expect(result.ok && [result.table.header.cells, result.sheetNames]).toEqual([
      ['Distance (km)', 'Notes'],
      ['Runs', 'Columns'],
    ]);
  });
});

describe('parseXlsxTable refuses hostile workbooks within bounded time and memory', () => {
  const sound = () => bytesOf((sheet) => sheet.addRow(['a', 'b']));

  it('a bomb by its stated size and by its ratio, before unpacking', async () => {
    const parts = unzipSync(await sound());
    const small = { ...tableLimits, maxUnpackedBytes: 4 * megabyte };
    const refusal = async (zeros: number) => {
      const bomb = zipSync({ ...parts, 'xl/media/zeros.bin': new Uint8Array(zeros) } as Zippable, {
        level: 1,
      });
      expect(bomb.length).toBeLessThan(zeros / 50);
      const result = await parseXlsxTable(bomb, undefined, small);
      return result.ok ? 'accepted' : result.message;
    };
    expect(await refusal(5 * megabyte)).toContain('larger than 4 MB');
    // Level 1 packs zeros a few hundred times; the strongest level a thousand.
    const tight = zipSync({ ...parts, 'xl/media/zeros.bin': new Uint8Array(2 * megabyte) } as Zippable, {
      level: 9,
    });
    expect(await message(tight)).toContain('far more tightly');
  });

  it('a bomb whose directory lies about its size', async () => {
    const honest = zipSync({
      ...unzipSync(await sound()),
      [sheetPart]: new Uint8Array(3 * megabyte).fill(32),
    } as Zippable);
    const lying = honest.slice();
    const view = new DataView(lying.buffer, lying.byteOffset);
    // Central directory records begin with PK\1\2; the unpacked size stands at offset 24 (APPNOTE 4.3.12).
    for (let at = 0; at + 46 < lying.length; at++) {
      if (view.getUint32(at, true) === 0x02014b50 && view.getUint32(at + 24, true) === 3 * megabyte)
        view.setUint32(at + 24, 1000, true);
    }
    const before = process.memoryUsage().arrayBuffers;
    const unpacked = unpackWorkbook(lying, tableLimits.maxUnpackedBytes);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(2e6);
    if (unpacked.ok) expect(unpacked.archive.length).toBeLessThan(2e5);
    expect(await message(lying)).not.toBe('accepted');
  });

  it('a thousand million merged or validated cells, which are passed over', async () => {
    const merged = edit(await sound(), sheetPart, (xml) =>
      xml.replace(
        '</sheetData>',
        '</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells><dataValidations count="1"><dataValidation type="whole" sqref="A1:XFD1048576"><formula1>1</formula1></dataValidation></dataValidations>',
      ),
    );
    const began = process.cpuUsage();
    expect(await message(merged)).toBe('accepted');
    expect(process.cpuUsage(began).user / 1000).toBeLessThan(2000);
  });

  it('a cell in the last column of the last row counts as what it is', async () => {
    const far = edit(await sound(), sheetPart, (xml) =>
      xml.replace('</sheetData>', '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'),
    );
    expect(await message(far)).toContain('column 16384');
  });

  it('rows and columns beyond the limits', async () => {
    const long = await bytesOf((sheet) => {
      for (let row = 0; row < tableLimits.maxRows + 2; row++) sheet.addRow([row]);
    });
    expect(await message(long)).toContain('more than 5000 rows');
    const wide = await bytesOf((sheet) => sheet.addRow(Array.from({ length: 201 }, (_, i) => i)));
    expect(await message(wide)).toContain('more than 200 columns');
  });

  it('document types, other archives, other files, cut files', async () => {
    const entity = edit(await sound(), sheetPart, (xml) =>
      xml.replace('<worksheet', '<!DOCTYPE x [<!ENTITY a "aaaa">]><worksheet'),
    );
    expect(await message(entity)).toContain('document type');
    expect(await message(zipSync({ 'a.txt': strToU8('hello') }))).toContain('not a workbook');
    expect(await message(strToU8('distance,energy\n1,2'))).toContain('not a workbook');
    expect(await message(new Uint8Array())).toContain('not a workbook');
    expect(await message(await bytesOf(() => undefined))).toBe('The workbook has no filled sheet.');
    const whole = await sound();
    expect(await message(whole.slice(0, whole.length - 30))).not.toBe('accepted');
  });

  it('any damage as data', async () => {
    const whole = await bytesOf((sheet) => {
      for (let row = 0; row < 20; row++) sheet.addRow([row, `text ${row}`, row / 7]);
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat({ max: whole.length - 1 }), fc.nat({ max: 255 })), {
          minLength: 1,
          maxLength: 5,
        }),
        async (changes) => {
          const damaged = whole.slice();
          for (const [at, byte] of changes) damaged[at] = byte;
          const result = await parseXlsxTable(damaged);
          if (!result.ok) expect(result.message.length).toBeGreaterThan(5);
        },
      ),
      { numRuns: 60 },
    );
  }, 30_000);
});
