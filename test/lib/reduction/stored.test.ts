import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { readSnapshot } from '@/lib/reduction/stored';
import { snapshotOf } from './exampleSnapshot';
import { readGolden } from './golden/goldenTable';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describe('a stored snapshot', () => {
  const snapshots = readGolden(METHOD_VERSION).cases.map(
    ({ name, input }) => [name, input.snapshot] as const,
  );

  it.each(snapshots)('is read as it was written: %s', (_, snapshot) => {
    expect(readSnapshot(throughJson(snapshot))).toEqual({ ok: true, snapshot });
  });

  it('is read without what nobody knows, and holds nothing that was written freely', () => {
    const stored = { ...snapshotOf(), colour: 'grey', record: { ...snapshotOf().record, notes: 'mine' } };
    const read = readSnapshot(throughJson(stored));
    expect(read).toEqual({ ok: true, snapshot: throughJson(snapshotOf()) });
  });

  it('of another version, or with a number missing, is refused with the place', () => {
    expect(readSnapshot({ ...snapshotOf(), version: 2 })).toMatchObject({ ok: false });
    const { lengthM: _, ...loop } = snapshotOf().loop;
    const read = readSnapshot({ ...snapshotOf(), loop });
    expect(read.ok ? '' : read.message).toMatch(/^loop\.lengthM: /);
    expect(readSnapshot(null)).toMatchObject({ ok: false });
  });

  it('never throws, whatever stands in the column', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom('record', 'car', 'loop', 'recording'), (value, key) => {
        expect(typeof readSnapshot(value).ok).toBe('boolean');
        expect(typeof readSnapshot({ ...snapshotOf(), [key]: value }).ok).toBe('boolean');
      }),
    );
  });
});
