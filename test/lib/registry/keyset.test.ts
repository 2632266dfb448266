import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { decodeCursor, encodeCursor, keyPart, readPage } from '@/lib/registry/keyset';
import type { Place } from '@/lib/store/keyset';

const key = z.tuple([keyPart.text, keyPart.integer]);
type Row = { name: string; number: number };
const keyOf = ({ name, number }: Row) => [name, number] as const;

/** A list in memory, read as a query reads it: outwards from the place. */
function listOf(rows: readonly Row[], size: number) {
  const compare = (a: readonly [string, number], b: readonly [string, number]) =>
    a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : a[1] - b[1];
  const sorted = [...rows].sort((a, b) => compare(keyOf(a), keyOf(b)));
  const read = async (place: Place<[string, number]> | undefined, take: number) => {
    if (place === undefined) return sorted.slice(0, take);
    const isBeyond = (row: Row) => compare(keyOf(row), place.key) * (place.side === 'after' ? 1 : -1) > 0;
    const outwards = place.side === 'after' ? sorted : sorted.toReversed();
    return outwards.filter(isBeyond).slice(0, take);
  };
  return { sorted, page: (from?: string) => readPage(from, { size, key, read, keyOf }) };
}

const rowsOf = fc.uniqueArray(
  fc.record({ name: fc.constantFrom('a', 'b', '', 'Ωmega'), number: fc.nat(60) }),
  { selector: ({ name, number }) => `${name} ${number}`, maxLength: 40 },
);

describe('a list read by keyset', () => {
  it('shows every row once on the way there and the same pages on the way back', async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf, fc.integer({ min: 1, max: 9 }), async (rows, size) => {
        const { sorted, page } = listOf(rows, size);
        const there = [await page()];
        for (let next = there[0]?.next; next !== undefined; next = there.at(-1)?.next)
          there.push(await page(next));
        expect(there.flatMap((one) => one.rows)).toEqual(sorted);
        expect(there.every((one) => one.rows.length <= size)).toBe(true);
        const back = [there.at(-1)];
        for (let previous = back[0]?.previous; previous !== undefined; previous = back.at(-1)?.previous)
          back.push(await page(previous));
        expect(back.toReversed().map((one) => one?.rows)).toEqual(there.map((one) => one.rows));
      }),
    );
  });

  it('begins anew where nothing is left beyond a cursor', async () => {
    const { page } = listOf([{ name: 'a', number: 1 }], 5);
    for (const side of ['after', 'before'] as const) {
      const found = await page(encodeCursor(side, ['a', 1]));
      expect(found).toEqual({ rows: [{ name: 'a', number: 1 }], previous: undefined, next: undefined });
    }
  });
});

describe('a cursor', () => {
  it('comes back as it was given', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 40 }).filter((text) => !text.includes('\0')),
        fc.nat(),
        (text, number) => {
          expect(decodeCursor(encodeCursor('after', [text, number]), key)).toEqual({
            side: 'after',
            key: [text, number],
          });
        },
      ),
    );
  });

  it('that no list gave means the first page', () => {
    const json = (value: unknown) => Buffer.from(JSON.stringify(value)).toString('base64url');
    const hostile = [
      '',
      'constructor',
      '__proto__',
      '%00',
      '\0',
      '💥',
      json(null),
      json(['after']),
      json(['sideways', ['a', 1]]),
      json(['after', ['a\0', 1]]),
      json(['after', ['a', 1e20]]),
      json(['after', ['a', -1]]),
      json(['after', ['a', 1, 2]]),
      json(['after', { 0: 'a', 1: 1, length: 2 }]),
      json(['after', ['a'.repeat(5000), 1]]),
    ];
    for (const cursor of hostile) expect(decodeCursor(cursor, key), cursor).toBeUndefined();
    fc.assert(
      fc.property(fc.string(), (cursor) => {
        const found = decodeCursor(cursor, key);
        expect(found === undefined || key.safeParse(found.key).success).toBe(true);
      }),
    );
  });

  it('holds only what the database can compare', () => {
    const refused = [
      [keyPart.day, ['2026-02-30', '2026-2-3', '', 'infinity', '0000-01-01', 5]],
      [keyPart.instant, ['2026-05-01', 'now', '2026-05-01T25:00:00Z', '0000-02-29T00:00:00Z', 1]],
      [keyPart.bigint, ['', '-1', '1.5', '9'.repeat(30), 1]],
      [keyPart.uuid, ['', '__proto__', '0'.repeat(32), 1]],
    ] as const;
    for (const [part, values] of refused)
      for (const value of values) expect(part.safeParse(value).success, String(value)).toBe(false);
  });
});
