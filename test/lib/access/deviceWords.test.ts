import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceWords } from '@/lib/access/deviceWords';

// The forms that the browsers' makers document for their User-Agent header; version numbers are of no account here.
const KNOWN: readonly (readonly [words: string, userAgent: string])[] = [
  ['Firefox on Linux', 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0'],
  ['Firefox on Android', 'Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0'],
  [
    'Safari on iPhone',
    'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1',
  ],
  [
    'Chrome on Android',
    'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Mobile Safari/537.36',
  ],
  [
    'Edge on Windows',
    'Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36 Edg/140.0.0.0',
  ],
  [
    'Chrome on macOS',
    'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36',
  ],
];

describe('a device in words', () => {
  it.each(KNOWN)('%s', (words, userAgent) => {
    expect(deviceWords(userAgent)).toBe(words);
  });

  it('says nothing of what it does not know, and repeats nothing that was sent', () => {
    expect(deviceWords(null)).toBe('Unknown browser');
    const words = /^[A-Z][A-Za-z ]+$/;
    fc.assert(fc.property(fc.string({ maxLength: 2000 }), (sent) => words.test(deviceWords(sent))));
    expect(deviceWords('<script>alert(1)</script>')).toBe('Unknown browser');
  });
});
