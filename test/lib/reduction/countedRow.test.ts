import { describe, expect, it } from 'vitest';
import { countedRow, type WideResult } from '@/lib/reduction/countedRow';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { readReduction } from '@/lib/reduction/stored';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { ENGINE, snapshotOf } from './exampleSnapshot';

const row = normalisationRow(reduceRun(snapshotOf(), ENGINE));
const wide: WideResult = {
  runId: 'run',
  number: 7,
  world: 'record',
  cruiseClassKey: 'mph-70',
  setupId: 'setup',
  modelId: 'model',
  carId: 'car',
  sessionId: 'session',
  loopId: 'loop',
  testerId: 'tester',
  day: new Date('2026-05-14'),
  monthOnly: false,
  decidedAt: new Date('2026-05-16'),
  computedAt: new Date('2026-05-15'),
  measuredWhPerKm: row.measuredWhPerKm,
  normalisedWhPerKm: row.normalisedWhPerKm,
  uWhPerKm: row.uWhPerKm,
  uRunRelative: row.uRunRelative,
  effectiveDof: row.effectiveDof,
  isNormalised: row.isNormalised,
  windSpeedMps: 3.5,
  windFromDeg: 250,
  result: readReduction(JSON.parse(JSON.stringify(row.result))),
};

describe('what counts of an approved run', () => {
  it('is the logarithm of its number, its own part, and what it shares; the squares make up the whole', () => {
    const counted = countedRow(wide, 'one');
    expect(counted.z).toBe(Math.log(row.normalisedWhPerKm ?? 0));
    expect(counted.u).toBe(row.uRunRelative);
    expect(counted.parts.length).toBeGreaterThan(3);
    const shared = counted.parts.reduce((sum, part) => sum + part.contribution ** 2, 0);
    const whole = ((row.uWhPerKm ?? 0) / (row.normalisedWhPerKm ?? 1)) ** 2;
    expect(shared + (row.uRunRelative ?? 0) ** 2).toBeCloseTo(whole, 12);
    expect(counted).not.toHaveProperty('result');
  });

  it.each([
    ['no result yet', { isNormalised: null, normalisedWhPerKm: null, uRunRelative: null, result: undefined }],
    ['a result outside the method’s reach', { isNormalised: false }],
    ['a result that cannot be read', { result: undefined }],
    ['a number without its own uncertainty', { uRunRelative: null }],
  ])('has no number with %s, but counts', (_, changes) => {
    expect(countedRow({ ...wide, ...changes }, 'one')).toMatchObject({
      runId: 'run',
      methodVersion: 'one',
      z: null,
      u: null,
      uWhPerKm: null,
      effectiveDof: null,
      parts: [],
    });
  });

  it('counts since the later of its decision and its computation', () => {
    expect(countedRow(wide, 'one').countedAt).toEqual(wide.decidedAt);
    const anew = new Date('2026-06-01');
    expect(countedRow({ ...wide, computedAt: anew }, 'one').countedAt).toEqual(anew);
    expect(countedRow({ ...wide, computedAt: null }, 'one').countedAt).toEqual(wide.decidedAt);
  });
});
