import { describe, expect, it } from 'vitest';
import { isBomb, trustIn } from '@/lib/openData/other/trust';

const known = { accepted: 'aaaa', own: 'oooo', others: ['bbbb'] };

describe('whose word is taken', () => {
  it.each([
    ['aaaa', known, 'accepted'],
    ['cccc', known, 'changed'],
    ['cccc', { ...known, accepted: null }, 'first'],
    ['oooo', known, 'own'],
    ['oooo', { ...known, accepted: 'oooo' }, 'own'],
    ['bbbb', known, 'anothers'],
    ['bbbb', { ...known, accepted: null }, 'anothers'],
  ] as const)('of the key %s with %o: %s', (keyId, those, trust) => {
    expect(trustIn(keyId, those)).toBe(trust);
  });
});

describe('an archive', () => {
  const MB = 1024 * 1024;
  it('may hold what presses well, and small ones anything small', () => {
    expect(isBomb(20 * MB, [{ bytes: 20 * MB }])).toBe(false);
    expect(isBomb(2 * MB, [{ bytes: 40 * MB }, { bytes: 40 * MB }])).toBe(false);
    expect(isBomb(1000, [{ bytes: 16 * MB }])).toBe(false);
  });
  it('may not unpack to many times its size', () => {
    expect(isBomb(2 * MB, [{ bytes: 40 * MB }, { bytes: 41 * MB }])).toBe(true);
    expect(isBomb(1000, [{ bytes: 16 * MB }, { bytes: 1 }])).toBe(true);
  });
});
