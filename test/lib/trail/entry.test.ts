import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalEntry, canonicalText, commitmentsTo, entryHash, type TrailEntry } from '@/lib/trail/entry';
import { madeEntry, signedUp } from './trails';

describe('the canonical form', () => {
  it('writes JSON as RFC 8785 does', () => {
    // RFC 8785, 3.2.2 and 3.2.3: the sample of primitives and the order of property names.
    const sample = JSON.parse(
      '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}',
    );
    expect(canonicalText(sample)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
    const names = { '\u20ac': 5, '\r': 1, '\ufb33': 7, '1': 2, '\u{1f600}': 6, '\u0080': 3, '\u00f6': 4 };
    expect(Object.values(JSON.parse(canonicalText(names)))).toHaveLength(7);
    expect([...canonicalText(names).matchAll(/:(\d)/g)].map(([, place]) => place)).toEqual([...'1234567']);
  });

  // Expected values: Python 3 (json.dumps with sorted keys, hashlib, hmac) over the form as entry.ts states it.
  it('has the bytes and the hash that were computed outside the project', () => {
    expect(canonicalEntry(madeEntry)).toBe(
      '["evenloop audit entry, form 1","42","2026-11-26T20:00:00.123Z","2026-11-26T20:00:00.456Z","0199a000-0000-7000-8000-000000000001","run.submit","run","0199a000-0000-7000-8000-000000000002",{"protocol":"1.1","revision":2},null,null]',
    );
    expect(entryHash(madeEntry).toString('hex')).toBe(
      '0cbe77b6123ef649819c1f4b8c78d71e9c82b0bd8ccaae3af226cb9d6c16fb30',
    );
  });

  it('holds personal details by commitments alone, and ids past 2⁵³', () => {
    const salt = Uint8Array.from({ length: 32 }, (_, k) => k);
    const commitments = commitmentsTo({ displayName: 'Mira Hölm' }, salt);
    expect(commitments).toEqual({
      displayName: '5a6da4bb10e95a092d7c05560af7e264188a9faeda624ef5e6ff9623e0509904',
    });
    expect(entryHash({ ...signedUp, commitments }).toString('hex')).toBe(
      '8a52e3b6e8628ebf95f44b488a1583f38e4e38924cbc58f6390fce6a7b61f459',
    );
  });

  it('does not depend on the order in which details were written', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string({ unit: 'grapheme' }), fc.jsonValue()), (details) => {
        const turned = Object.fromEntries(Object.entries(details).reverse());
        expect(canonicalEntry({ ...madeEntry, details: turned })).toBe(
          canonicalEntry({ ...madeEntry, details }),
        );
      }),
    );
  });

  it('differs for entries that differ in anything', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 8 });
    const instant = fc.date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true });
    const entry: fc.Arbitrary<TrailEntry> = fc.record({
      id: fc.bigInt({ min: 1n, max: 2n ** 62n }),
      at: instant,
      writtenAt: fc.option(instant),
      actorId: fc.option(text),
      action: text,
      subjectKind: text,
      subjectId: text,
      details: fc.jsonValue(),
      personalOf: fc.option(text),
      commitments: fc.option(fc.dictionary(text, text)),
    });
    fc.assert(
      fc.property(
        entry,
        entry,
        fc.constantFrom(...(Object.keys(madeEntry) as (keyof TrailEntry)[])),
        (a, b, field) => {
          const changed = { ...a, [field]: b[field] };
          // What is the same JSON is the same entry: −0 is 0 there.
          const isSame = canonicalText(json(a[field])) === canonicalText(json(b[field]));
          expect(canonicalEntry(changed) === canonicalEntry(a)).toBe(isSame);
        },
      ),
    );
  });
});

function json(value: unknown): unknown {
  return typeof value === 'bigint' ? String(value) : JSON.parse(JSON.stringify(value));
}

describe('a commitment', () => {
  it('binds to field and value, and shows neither without the salt', () => {
    const salts = [new Uint8Array(32).fill(1), new Uint8Array(32).fill(2)] as const;
    fc.assert(
      fc.property(fc.string(), fc.string(), fc.string(), (field, one, other) => {
        const [mine] = Object.values(commitmentsTo({ [field]: one }, salts[0]));
        expect(mine === Object.values(commitmentsTo({ [field]: other }, salts[0]))[0]).toBe(one === other);
        expect(mine).not.toBe(Object.values(commitmentsTo({ [field]: one }, salts[1]))[0]);
        expect(mine).not.toBe(Object.values(commitmentsTo({ [`${field}x`]: one }, salts[0]))[0]);
      }),
    );
  });
});
