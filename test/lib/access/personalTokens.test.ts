import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bearerOf, hashOfToken, isTokenText, newToken, TOKEN_PATTERN } from '@/lib/access/personalTokens';

describe('a token for a program', () => {
  it('is found in a text by its look, and is another one each time', () => {
    const made = Array.from({ length: 200 }, newToken);
    expect(new Set(made).size).toBe(200);
    for (const token of made) {
      expect(token).toMatch(TOKEN_PATTERN);
      expect(isTokenText(token)).toBe(true);
      expect(hashOfToken(token)).not.toContain(token.slice(9, 30));
    }
  });

  it('is known for none where one of its digits is another', () => {
    fc.assert(
      fc.property(fc.integer({ min: 9, max: 57 }), fc.constantFrom('0', 'z', 'Q'), (at, digit) => {
        const token = newToken();
        const other = `${token.slice(0, at)}${digit}${token.slice(at + 1)}`;
        expect(isTokenText(other)).toBe(other === token);
      }),
      { numRuns: 60 },
    );
    for (const none of ['', 'evenloop_', `${newToken()}0`, ` ${newToken()}`, `${newToken()}\n`, '__proto__'])
      expect(isTokenText(none), none).toBe(false);
  });

  it('is read from the header that carries it, and from nothing else (RFC 6750, 2.1)', () => {
    expect(bearerOf('Bearer abc.DEF-1~+/==')).toBe('abc.DEF-1~+/==');
    expect(bearerOf('bearer  abc')).toBe('abc');
    for (const none of [null, '', 'abc', 'Basic abc', 'Bearer', 'Bearer a b', 'Bearer a\0', 'XBearer abc'])
      expect(bearerOf(none), String(none)).toBeUndefined();
  });
});
