import { createPublicKey, generateKeyPairSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { isGenuine, marksOf, NO_HASH, sealLine, sealOfLine, signedSeal } from '@/lib/trail/seal';
import { keptEntries, madeEntry, sealOver, TEST_KEY } from './trails';

const trusted = [createPublicKey(TEST_KEY)];

describe('a seal', () => {
  // Expected values: Python 3 (hashlib; cryptography's Ed25519) over the form as seal.ts states it.
  it('has the hash, the key and the signature that were computed outside the project', () => {
    const seal = signedSeal(
      {
        number: 1,
        fromId: 41n,
        toId: 42n,
        sealedAt: new Date('2026-11-26T20:00:01.000Z'),
        previousHash: NO_HASH,
        marks: marksOf([madeEntry]),
      },
      TEST_KEY,
    );
    expect(seal.hash).toBe('c2015a6179a03a6fb61367a1acc398df94a481945f43d12c3b98f3537e3048a4');
    expect(seal.keyId).toBe('06e3fd8fda29bb60');
    expect(seal.signature).toBe(
      'fsjKpn3sFIyLSr/gjQYDNnCnu/CVWDv9gOhjVIfg1GRZzyUeSsrGSGzMQi4V2Qy/FZ+aIvewJiKY8y1OLwyvAg==',
    );
    expect(isGenuine(seal, trusted)).toBe(true);
  });

  it('is not genuine with anything changed, or by another key', () => {
    const seal = sealOver(keptEntries(3));
    const other = generateKeyPairSync('ed25519');
    expect(isGenuine(seal, trusted)).toBe(true);
    const marks = Buffer.from(seal.marks);
    marks.writeUInt8(marks.readUInt8(50) ^ 1, 50);
    for (const changed of [
      { number: 2 },
      { fromId: 91n },
      { toId: 10_001n },
      { sealedAt: new Date(0) },
      { previousHash: '1'.repeat(64) },
      { marks },
      { hash: '2'.repeat(64) },
      { signature: Buffer.alloc(64).toString('base64') },
      { keyId: '0' },
    ])
      expect(isGenuine({ ...seal, ...changed }, trusted), Object.keys(changed)[0]).toBe(false);
    expect(isGenuine(signedSeal(seal, other.privateKey), trusted)).toBe(false);
    expect(isGenuine(signedSeal(seal, other.privateKey), [...trusted, other.publicKey])).toBe(true);
  });

  it('comes back from its line, and nothing else does', () => {
    const seal = sealOver(keptEntries(5));
    const line = sealLine(seal);
    expect(line).not.toContain('\n');
    expect(sealOfLine(line)).toEqual({ ...seal, marks: Buffer.from(seal.marks) });
    for (const text of ['', 'null', '{}', line.slice(0, -5), line.replace('"fromId":"', '"fromId":"x')])
      expect(sealOfLine(text)).toBeUndefined();
  });
});
