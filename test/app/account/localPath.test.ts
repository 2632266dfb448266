import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { localPath } from '@/app/(account)/sign-in/localPath';

const HERE = 'https://registry.example/sign-in';

describe('where sign-in leads', () => {
  it.each(['/queue', '/review/12?units=mi#top', '/import'])('back to %s', (path) => {
    expect(localPath(path)).toBe(path);
  });

  it.each([
    'https://elsewhere.example/',
    '//elsewhere.example',
    '/\\elsewhere.example',
    '\\\\elsewhere.example',
    '/.//elsewhere.example',
    '/x/..//elsewhere.example',
    '/%2e//elsewhere.example',
    '/\t/elsewhere.example',
    'javascript:alert(1)',
  ])('not to %s', (address) => {
    expect(localPath(address)).toBe('/my');
  });

  it('never off the site', () => {
    const piece = fc.constantFrom(
      '/',
      '\\',
      '.',
      '..',
      '%2e',
      '\t',
      '@',
      ':',
      'elsewhere.example',
      'https:',
      '?',
      '#',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        expect(new URL(localPath(pieces.join('')), HERE).origin).toBe(new URL(HERE).origin);
      }),
      { numRuns: 2000, seed: 7 },
    );
  });
});
