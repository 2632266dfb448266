import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figureCsv, shownNumber } from '@/app/ui/figures/figureCsv';
import { formatNumber } from '@/lib/units/format';

describe('a figure as CSV', () => {
  it('keeps numbers as numbers and parts intervals, and says nothing where nothing is', () => {
    const csv = figureCsv({
      caption: 'Differences',
      columns: [
        { header: 'Setup' },
        { header: 'Difference', unit: '%' },
        { header: 'All pairs, 95 %', unit: '%' },
        { header: 'Runs' },
      ],
      rows: [
        [
          { text: 'Low, “eco”', href: '/setups/low' },
          '−3.10',
          '−5.0 to −1.2',
          [{ text: '12', href: '/runs/12' }],
        ],
        ['Wide', '+0.4', '–', '12\u202F345'],
      ],
    });
    expect(csv.split('\r\n')).toEqual([
      'Setup,"Difference, %","All pairs, 95 %, from, %","All pairs, 95 %, to, %",Runs',
      '"Low, “eco”",-3.1,-5,-1.2,12',
      'Wide,0.4,,,12345',
      '',
    ]);
  });

  it('leaves no spreadsheet program a formula to run', () => {
    const names = ['=1+1', '+cmd', '-2+3', '@SUM(A1)', '\tx', '\rx'];
    const csv = figureCsv({ caption: '', columns: [{ header: 'Setup' }], rows: names.map((name) => [name]) });
    // OWASP, CSV Injection: a cell that begins so gets an apostrophe before it.
    for (const name of names) expect(csv).toContain(`'${name}`);
  });

  it('reads every number as the pages write it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e7, max: 1e7, noNaN: true }),
        fc.integer({ min: 0, max: 4 }),
        fc.constantFrom('.' as const, ',' as const),
        fc.boolean(),
        (value, decimals, decimalMark, signed) => {
          const shown = shownNumber(formatNumber(value, decimals, { decimalMark, signed }));
          expect(shown).toBeCloseTo(Number(value.toFixed(decimals)), 9);
        },
      ),
    );
  });

  it('takes no date, rank or address for a number', () => {
    for (const text of ['2026-11-20', 'rank 3', '3–9', '1 of 4', '12 %', '']) {
      expect(shownNumber(text)).toBeUndefined();
    }
  });
});
