import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BadCell, cellText, cellValue, csvHeader, csvRow, jsonLine } from '@/lib/openData/cells';
import type { CellType, Column, Table } from '@/lib/openData/column';

const column = (type: CellType, isRequired = false): Column => ({
  name: 'it',
  type,
  says: 'Something.',
  source: 'registry',
  isRequired,
});

/** Anything that has JSON; nought has one sign there. */
const json = fc.jsonValue().map((value) => JSON.parse(JSON.stringify(value)) as unknown);
const VALUES: readonly [CellType, fc.Arbitrary<unknown>][] = [
  ['integer', fc.maxSafeInteger()],
  ['number', fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => (x === 0 ? 0 : x))],
  ['boolean', fc.boolean()],
  ['string', fc.stringMatching(/^[A-Za-z0-9"'; ,\r\n-]{1,20}$/).filter((text) => /^[A-Za-z0-9]/.test(text))],
  ['array', fc.array(json)],
  ['object', fc.dictionary(fc.string(), json)],
];

describe('a cell', () => {
  it.each(VALUES)('of type %s reads back as what was written', (type, values) => {
    fc.assert(
      fc.property(values, (value) => {
        expect(cellValue(column(type), cellText(column(type), value))).toEqual(value);
      }),
    );
  });

  it.each(VALUES)('of type %s comes whole through CSV and JSON Lines', (type, values) => {
    const table: Table = {
      name: 't',
      title: 'T',
      says: 'S.',
      key: ['it'],
      refersTo: [],
      columns: [column(type)],
    };
    fc.assert(
      fc.property(values, (it) => {
        const [, record] = parse(csvHeader(table) + csvRow(table, { it }), {
          record_delimiter: '\r\n',
        }) as string[][];
        expect(cellValue(column(type), record?.[0] ?? '')).toEqual(it);
        const line = jsonLine(table, { it });
        expect(line.slice(0, -1)).not.toContain('\n');
        expect(JSON.parse(line)).toEqual({ it });
      }),
    );
  });

  it('is written in one way alone', () => {
    for (const [type, text] of [
      ['number', '1.0'],
      ['number', '1e3'],
      ['integer', '1.5'],
      ['integer', '+1'],
      ['boolean', 'yes'],
      ['date', '2026-6-1'],
      ['datetime', '2026-06-01T10:00:00Z'],
      ['array', '[1, 2]'],
      ['object', '{"b":1,"a":2}'],
    ] as const)
      expect(() => cellValue(column(type), text), text).toThrow(BadCell);
  });

  it('has nothing for what is infinite, and never nothing where something has to be', () => {
    expect(cellText(column('number'), Number.POSITIVE_INFINITY)).toBe('');
    expect(() => cellText(column('number', true), Number.NaN)).toThrow(BadCell);
    expect(() => cellValue(column('string', true), '')).toThrow(BadCell);
  });

  // OWASP, CSV Injection: what a spreadsheet program would run
  it.each(['=1+1', '@SUM(A1)', '+cmd', '-cmd', '\tx', '＝1'])('is never the formula %s', (text) => {
    expect(() => cellText(column('string'), text)).toThrow(BadCell);
  });

  it('may be a number as it was typed', () => {
    for (const text of ['-3.5', '+2', '-,5', '1019']) expect(cellText(column('string'), text)).toBe(text);
  });
});
