import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { reduceRun } from '@/lib/reduction/reduceRun';
import type { RecordingSnapshot } from '@/lib/reduction/snapshot';
import { readParts, readReduction, readSnapshot } from '@/lib/reduction/stored';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { ENGINE, snapshotOf } from './exampleSnapshot';
import { snapshotIn } from './golden/goldenOutput';
import { readGolden } from './golden/goldenTable';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

const messageOf = (stored: unknown): string => {
  const read = readSnapshot(throughJson(stored));
  return read.ok ? '' : read.message;
};

const RECORDING: RecordingSnapshot = {
  traceId: 'trace',
  distanceM: 101_300,
  lengthScale: 0.9987,
  gapDistanceM: 0,
  meanSquareSpeedM2S2: 920,
  slowDowns: [{ fromMps: 31, toMps: 9, fallM: 470 }],
  durationS: 3400,
  cruise: null,
  sectorShares: [0.5, 0.5],
  closureDistanceM: 40,
  netClimbM: null,
};

describe('a stored snapshot', () => {
  const snapshots = readGolden(METHOD_VERSION).cases.map(
    ({ name, input }) => [name, input.snapshot] as const,
  );

  it.each(snapshots)('of any version is read, and once written anew read as it was: %s', (_, stored) => {
    const snapshot = snapshotIn(stored);
    expect(snapshot).toMatchObject({ ...stored, version: 2 });
    expect(readSnapshot(throughJson(snapshot))).toEqual({ ok: true, snapshot });
  });

  it('of the first version says of what came later that there is none', () => {
    const { driving: _, ...loop } = snapshotOf().loop;
    const slowDowns = [{ fromMps: 31, toMps: 9 }];
    const { durationS: __, lengthScale: ___, ...recording } = { ...RECORDING, slowDowns };
    const first = { ...snapshotOf(), version: 1, loop, recording };
    const read = snapshotIn(throughJson(first));
    expect(read).toEqual({
      ...snapshotOf(),
      recording: {
        ...RECORDING,
        durationS: null,
        lengthScale: null,
        slowDowns: [{ fromMps: 31, toMps: 9, fallM: null }],
      },
    });
    expect(read.loop.driving).toBeNull();
  });

  it('of the second version must say each of these, be it that there is none', () => {
    const second = { ...snapshotOf(), recording: RECORDING };
    const { driving: _, ...loop } = second.loop;
    const { durationS: __, ...recording } = RECORDING;
    const { lengthScale: ___, ...unscaled } = RECORDING;
    const slowDowns = [{ fromMps: 31, toMps: 9 }];
    expect(readSnapshot(throughJson(second))).toMatchObject({ ok: true });
    expect(messageOf({ ...second, loop })).toMatch(/^loop\.driving: /);
    expect(messageOf({ ...second, recording })).toMatch(/^recording\.durationS: /);
    expect(messageOf({ ...second, recording: unscaled })).toMatch(/^recording\.lengthScale: /);
    expect(messageOf({ ...second, recording: { ...RECORDING, slowDowns } })).toMatch(
      /^recording\.slowDowns\.0\.fallM: /,
    );
  });

  it('is read without what nobody knows, and holds nothing that was written freely', () => {
    const stored = { ...snapshotOf(), colour: 'grey', record: { ...snapshotOf().record, notes: 'mine' } };
    const read = readSnapshot(throughJson(stored));
    expect(read).toEqual({ ok: true, snapshot: throughJson(snapshotOf()) });
  });

  it('of another version, or with a number missing, is refused with the place', () => {
    expect(readSnapshot({ ...snapshotOf(), version: 3 })).toMatchObject({ ok: false });
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

describe('the stored parts of a counted run', () => {
  const part = { input: 'massKg', scope: 'car', key: 'a car', contribution: -0.004 };

  it('are read as they were written', () => {
    expect(readParts(throughJson([part]))).toEqual([part]);
    expect(readParts([])).toEqual([]);
  });

  it.each([
    ['no list', {}],
    ['one part of another scope among good ones', [part, { ...part, scope: 'planet' }]],
    ['a contribution that is no number', [{ ...part, contribution: null }]],
    ['a part without its owner', [{ ...part, key: undefined }]],
  ])('are not read at all where they are odd: %s', (_, stored) => {
    expect(readParts(stored)).toBeUndefined();
  });
});

describe('a stored result', () => {
  const results = readGolden(METHOD_VERSION).cases.map(
    ({ name, input }) =>
      [name, normalisationRow(reduceRun(snapshotIn(input.snapshot), ENGINE)).result] as const,
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
