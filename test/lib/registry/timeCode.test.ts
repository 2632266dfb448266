import { Secret } from 'otpauth';
import { describe, expect, it } from 'vitest';
import { codeAt, newTimeSecret, stepOfCode, timeSecretAddress } from '@/lib/registry/accounts/timeCode';

/** RFC 6238, appendix B, SHA-1: the key, times in seconds, and the last six digits of the eight that stand there. */
const KEY = Secret.fromUTF8('12345678901234567890').base32;
const VECTORS = [
  [59, '287082'],
  [1_111_111_109, '081804'],
  [1_111_111_111, '050471'],
  [1_234_567_890, '005924'],
  [2_000_000_000, '279037'],
  [20_000_000_000, '353130'],
] as const;

describe('a time-based code', () => {
  it.each(VECTORS)('at %i s is that of RFC 6238', (atS, code) => {
    const at = new Date(atS * 1000);
    expect(codeAt(KEY, at)).toBe(code);
    expect(stepOfCode(KEY, code, at)).toBe(Math.floor(atS / 30));
  });

  it('holds one step either way and names its own step', () => {
    const at = new Date(1_234_567_890_000);
    const code = codeAt(KEY, at);
    const step = 1_234_567_890 / 30;
    const later = (seconds: number) => stepOfCode(KEY, code, new Date(at.getTime() + seconds * 1000));
    expect([-31, -30, 0, 30, 59, 60].map(later)).toEqual([undefined, step, step, step, step, undefined]);
  });

  it('is six digits and nothing else', () => {
    const at = new Date(59_000);
    for (const text of ['', '28708', '2870820', '94287082', ' 287082', 'abcdef'])
      expect(stepOfCode(KEY, text, at)).toBeUndefined();
  });

  it('comes of a key of 160 bits, new each time, that an app can read', () => {
    const secret = newTimeSecret();
    expect(secret).toMatch(/^[A-Z2-7]{32}$/);
    expect(newTimeSecret()).not.toBe(secret);
    const address = new URL(timeSecretAddress(secret, 'oda@people.example'));
    expect([address.protocol, address.host, address.searchParams.get('secret')]).toEqual([
      'otpauth:',
      'totp',
      secret,
    ]);
    expect(address.searchParams.get('issuer')).toBe('Evenloop');
  });
});
