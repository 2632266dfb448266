import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCsvTable } from '@/lib/capture/sheet/csvTable';
import { cellReference, columnLetters, type SheetTable, tableLimits } from '@/lib/capture/sheet/table';
import { writeCsv } from '@/lib/capture/sheet/writeSheet';

function table(input: string | Uint8Array): SheetTable {
  const result = parseCsvTable(input);
  if (!result.ok) throw new Error(result.message);
  return result.table;
}
const message = (input: string | Uint8Array) => {
  const result = parseCsvTable(input);
  return result.ok ? 'accepted' : result.message;
};

describe('columnLetters', () => {
  // ECMA-376 part 1, 18.3.1.13: the last column of a sheet, number 16 384, is XFD.
  it.each([
    [0, 'A'],
    [25, 'Z'],
    [26, 'AA'],
    [51, 'AZ'],
    [701, 'ZZ'],
    [702, 'AAA'],
    [16_383, 'XFD'],
  ])('%i is %s', (column, letters) => {
    expect(columnLetters(column)).toBe(letters);
    expect(cellReference(column, 7)).toBe(`${letters}7`);
  });
});

describe('parseCsvTable by the rules of RFC 4180', () => {
  it('reads quoted cells with separators, line ends and doubled quotes (rules 5 to 7)', () => {
    const { header, rows } = table('aaa,bbb,ccc\r\n"b\r\nbb","b,b","b""b"\r\nzzz,yyy,xxx\r\n');
    expect(header.cells).toEqual(['aaa', 'bbb', 'ccc']);
    expect(rows).toEqual([
      { rowNumber: 2, cells: ['b\r\nbb', 'b,b', 'b"b'] },
      { rowNumber: 3, cells: ['zzz', 'yyy', 'xxx'] },
    ]);
  });

  it('numbers rows as a spreadsheet does: blank lines count', () => {
    const { header, rows, blankRows } = table('\n\na;b\n\n1,5;2\n;\n3;4');
    expect([header.rowNumber, ...rows.map(({ rowNumber }) => rowNumber)]).toEqual([3, 5, 7]);
    expect(rows[0]?.cells).toEqual(['1,5', '2']);
    expect(blankRows).toBe(4);
  });

  it('reads tabs, a byte order mark, UTF-16 and windows-1252', () => {
    expect(table('\uFEFFa\tb\n1\t2').header.cells).toEqual(['a', 'b']);
    expect(table(Buffer.from('\uFEFFä,b\n1,2', 'utf16le')).header.cells).toEqual(['ä', 'b']);
    expect(table(Buffer.from('Höhe;b\n1;2', 'latin1')).header.cells).toEqual(['Höhe', 'b']);
  });

  it('reads back what it writes, whatever the texts', () => {
    const cell = fc
      .string({ unit: 'grapheme', maxLength: 12 })
      .map((text) => text.trim().replace(/^[\s\0]+/, ''))
      .filter((text) => !/^[=+\-@＝＋－＠]|\0|^\s|\s$/.test(text));
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { maxLength: 8 }), (rows) => {
        const filled = rows.filter((row) => row.some((text) => text !== ''));
        const back = table(writeCsv(['a', 'b', 'c'], rows));
        expect(back.rows.map(({ cells }) => cells)).toEqual(filled);
      }),
    );
  });
});

describe('parseCsvTable refuses', () => {
  it('10 000 columns at once, in little time and memory', () => {
    const wide = `${Array.from({ length: 10_000 }, (_, i) => `c${i}`).join(',')}\n`.repeat(100);
    const began = process.cpuUsage();
    expect(message(wide)).toBe('A row has 10000 columns; at most 200 are read.');
    expect(process.cpuUsage(began).user / 1000).toBeLessThan(2000);
  });

  it('too many rows, too long cells, too many bytes', () => {
    expect(message('a\n'.repeat(tableLimits.maxRows + 2))).toContain('more than 5000 rows');
    expect(message(`a\n${'x'.repeat(6000)}`)).toContain('more than 5000 characters');
    expect(message(new Uint8Array(tableLimits.maxBytes + 1))).toContain('larger than 10 MB');
  });

  it('quotes that never close or stand inside, binary and empty files', () => {
    expect(message('a,b\n"1,2\n3,4')).toContain('never closed');
    expect(message('a,b\n1"2,3')).toContain('inside a cell');
    expect(message(Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 0]))).toBe('The file is not text.');
    expect(message('')).toBe('The file is empty.');
    expect(message('\n ,\n')).toBe('The file is empty.');
    const quoted = parseCsvTable('a,b\n1,2\n"x"y,3');
    expect(!quoted.ok && quoted.rowNumber).toBe(3);
  });

  it('any bytes as data; every filled row is in the table', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        const result = parseCsvTable(bytes);
        if (result.ok) expect(result.table.header.cells.some((cell) => cell !== '')).toBe(true);
        else expect(result.message.length).toBeGreaterThan(5);
      }),
    );
  });
});
