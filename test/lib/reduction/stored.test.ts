import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { readReduction, readSnapshot } from '@/lib/reduction/stored';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { ENGINE, snapshotOf } from './exampleSnapshot';
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

describe('a stored result', () => {
  const results = readGolden(METHOD_VERSION).cases.map(
    ({ name, input }) => [name, normalisationRow(reduceRun(input.snapshot, ENGINE)).result] as const,
  );

  it.each(results)('is read as it was written: %s', (_, result) => {
    const stored = throughJson(result);
    expect(throughJson(readReduction(stored))).toEqual(stored);
  });

  const [, result] = results[0] as (typeof results)[number];

  it('from before the method kept its sources is read without them', () => {
    const { energy, legWind, normalisation } = result;
    const older = throughJson({ energy, legWind, normalisation });
    expect(throughJson(readReduction(older))).toEqual(older);
  });

  it('is read without a part that cannot be read, unless it is nothing without it', () => {
    expect(readReduction(throughJson({ ...result, speed: { cruiseSpeedKmh: 110 } }))).toEqual({
      ...readReduction(throughJson(result)),
      speed: undefined,
    });
    expect(readReduction(throughJson({ ...result, energy: null }))).toBeUndefined();
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(result)), (value, key) => {
        readReduction(value);
        const read = readReduction({ ...result, [key]: value });
        expect(read === undefined || read.normalisation.measuredWhPerKm > 0).toBe(true);
      }),
    );
  });
});
