import { createPrivateKey } from 'node:crypto';
import type { TrailEntry } from '@/lib/trail/entry';
import type { KeptEntry } from '@/lib/trail/fault';
import { marksOf, NO_HASH, type Seal, signedSeal } from '@/lib/trail/seal';

export const madeEntry: TrailEntry = {
  id: 42n,
  at: new Date('2026-11-26T20:00:00.123Z'),
  writtenAt: new Date('2026-11-26T20:00:00.456Z'),
  actorId: '0199a000-0000-7000-8000-000000000001',
  action: 'run.submit',
  subjectKind: 'run',
  subjectId: '0199a000-0000-7000-8000-000000000002',
  details: { revision: 2, protocol: '1.1' },
  personalOf: null,
  commitments: null,
};

/** An entry of before entries were sealed, with an id that no number of JavaScript's holds. */
export const signedUp: TrailEntry = {
  id: 9_007_199_254_740_993n,
  at: new Date('2026-01-02T03:04:05.000Z'),
  writtenAt: null,
  actorId: null,
  action: 'account.signUp',
  subjectKind: 'account',
  subjectId: '0199a000-0000-7000-8000-000000000001',
  details: {},
  personalOf: '0199a000-0000-7000-8000-000000000001',
  commitments: null,
};

/** The secret key of test 1 of RFC 8032, 7.1, as PKCS #8. */
export const TEST_KEY = createPrivateKey({
  key: Buffer.from('MC4CAQAwBQYDK2VwBCIEIJ1hsZ3v/VpguoRK9JLsLMREScVpezJpGXA7rAMcrn9g', 'base64'),
  format: 'der',
  type: 'pkcs8',
});

export const SEALED_AT = new Date('2026-11-26T20:00:10.000Z');
export const SEALED_BEFORE = new Date('2026-11-26T20:00:00.000Z');

/** Entries with gaps between their ids, as what was undone leaves them. */
export function keptEntries(count: number): KeptEntry[] {
  return Array.from({ length: count }, (_, k) => ({
    ...madeEntry,
    id: BigInt(100 + 2 * k),
    at: new Date(SEALED_BEFORE.getTime() + 100 * k),
    writtenAt: new Date(SEALED_BEFORE.getTime() + 100 * k + 3),
    details: { revision: k },
    personal: null,
    salt: null,
    isErased: false,
    isOfDemo: false,
  }));
}

export function sealOver(entries: readonly TrailEntry[], number = 1): Seal {
  return signedSeal(
    {
      number,
      fromId: 90n,
      toId: 10_000n,
      sealedAt: SEALED_AT,
      previousHash: NO_HASH,
      marks: marksOf(entries),
    },
    TEST_KEY,
  );
}
