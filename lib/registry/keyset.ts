import { z } from 'zod';
import type { Place } from '@/lib/store/keyset';

/** One page of a list, with the cursors of its neighbours where there are any. */
export interface Page<Row> {
  rows: Row[];
  previous: string | undefined;
  next: string | undefined;
}

/** What a key can be made of; each refuses what the database could not compare. */
export const keyPart = {
  day: z.iso
    .date()
    .refine(isAfterYear0)
    .transform((text) => new Date(text)),
  instant: z.iso
    .datetime()
    .refine(isAfterYear0)
    .transform((text) => new Date(text)),
  integer: z.int().min(0).max(2_147_483_647),
  bigint: z
    .string()
    .regex(/^\d{1,18}$/)
    .transform((text) => BigInt(text)),
  uuid: z.uuid(),
  // PostgreSQL keeps no NUL.
  text: z
    .string()
    .max(200)
    .refine((text) => !text.includes('\0')),
};

/** PostgreSQL knows no year 0, ISO 8601 does. */
function isAfterYear0(text: string): boolean {
  return !text.startsWith('0000');
}

type StoredKey = string | readonly (string | number)[];

interface KeysetList<Key, Row> {
  size: number;
  key: z.ZodType<Key>;
  /** At most `take` rows from the place outwards. */
  read: (place: Place<Key> | undefined, take: number) => Promise<Row[]>;
  /** The key of a row as `key` parses it. */
  keyOf: (row: Row) => StoredKey;
}

const LONGEST_CURSOR = 1000;

/**
 * The page at a cursor. A cursor that no page of this list gave, or beyond which nothing is left, means the first page:
 * what stands in an address is never an error.
 */
export async function readPage<Key, Row>(
  cursor: string | undefined,
  { size, key, keyOf, read }: KeysetList<Key, Row>,
): Promise<Page<Row>> {
  const wanted = decodeCursor(cursor, key);
  // One more than is shown tells whether there is a page beyond.
  const found = await read(wanted, size + 1);
  const place = found.length === 0 ? undefined : wanted;
  const outwards = place === wanted ? found : await read(undefined, size + 1);
  const hasBeyond = outwards.length > size;
  const rows = outwards.slice(0, size);
  if (place?.side === 'before') rows.reverse();
  const [first, last] = [rows[0], rows.at(-1)];
  const hasPrevious = place?.side === 'before' ? hasBeyond : place !== undefined;
  const hasNext = place?.side === 'before' || hasBeyond;
  return {
    rows,
    previous: hasPrevious && first !== undefined ? encodeCursor('before', keyOf(first)) : undefined,
    next: hasNext && last !== undefined ? encodeCursor('after', keyOf(last)) : undefined,
  };
}

export function encodeCursor(side: Place<unknown>['side'], key: StoredKey): string {
  return Buffer.from(JSON.stringify([side, key])).toString('base64url');
}

export function decodeCursor<Key>(cursor: string | undefined, key: z.ZodType<Key>): Place<Key> | undefined {
  if (cursor === undefined || cursor.length > LONGEST_CURSOR) return undefined;
  const parsed = z
    .tuple([z.enum(['after', 'before']), key])
    .safeParse(jsonOf(Buffer.from(cursor, 'base64url').toString('utf8')));
  return parsed.success ? { side: parsed.data[0], key: parsed.data[1] } : undefined;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
