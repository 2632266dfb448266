import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { allowanceHeaders, READS_A_WINDOW, ReadAllowance, WINDOW_S } from '@/app/api/v1/allowance';
import { listCsv } from '@/app/api/v1/listCsv';
import { TooSoon } from '@/lib/run/errors';

describe('the reads of one network', () => {
  it('are counted in a window, end with what says when to come back, and begin anew after it', () => {
    const allowance = new ReadAllowance();
    const at = 1_000_000;
    for (let left = READS_A_WINDOW - 1; left >= 0; left -= 1)
      expect(allowance.take('192.0.2.1', at)).toEqual({ left, resetS: WINDOW_S });
    const refused = (() => {
      try {
        allowance.take('192.0.2.1', at + 60_000);
      } catch (error) {
        return error;
      }
    })();
    expect(refused).toBeInstanceOf(TooSoon);
    expect((refused as TooSoon).waitS).toBe(WINDOW_S - 60);
    // another one is not kept waiting
    expect(allowance.take('192.0.2.2', at).left).toBe(READS_A_WINDOW - 1);
    expect(allowance.take('192.0.2.1', at + WINDOW_S * 1000).left).toBe(READS_A_WINDOW - 1);
  });

  it('are told as structured fields: quoted names with parameters (RFC 9651, 3.3.3)', () => {
    const headers = allowanceHeaders({ left: 7, resetS: 30 });
    expect(headers.RateLimit).toBe('"reads";r=7;t=30');
    expect(headers['RateLimit-Policy']).toMatch(/^"reads";q=\d+;w=\d+$/);
  });
});

describe('a list as CSV', () => {
  it('comes back by another parser as it was: numbers, words, gaps and what is inside rows', () => {
    const row = z.record(z.string(), z.unknown());
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            slug: fc
              .string({ minLength: 1 })
              .filter((text) => !/^[\s'=+\-@\t\r]/.test(text) && text.trim() === text),
            of: fc.record({ value: fc.option(fc.double({ noNaN: true, noDefaultInfinity: true })) }),
            ends: fc.array(fc.integer(), { minLength: 2, maxLength: 2 }),
          }),
          { minLength: 1, maxLength: 20 },
        ),
        (rows) => {
          const read = parse(listCsv(rows), { columns: true });
          expect(read).toHaveLength(rows.length);
          rows.forEach((given, index) => {
            const found = row.parse(read[index]);
            expect(found.slug).toBe(given.slug);
            const value = given.of.value;
            if (value === null) expect(found['of.value']).toBe('');
            else expect(Number(found['of.value'])).toBe(value === 0 ? 0 : value);
            expect([Number(found['ends.low']), Number(found['ends.high'])]).toEqual(given.ends);
          });
        },
      ),
    );
  });

  it('writes no formula that a spreadsheet would run', () => {
    expect(listCsv([{ name: '=HYPERLINK("x")' }])).not.toMatch(/(^|\n|,)"?=/);
  });
});
