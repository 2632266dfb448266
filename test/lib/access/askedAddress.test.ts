import { describe, expect, it } from 'vitest';
import { wholeAddress } from '@/lib/access/askedAddress';

describe('where a sign-in leads back to', () => {
  it.each([
    ['/my/cars', '/my/cars?run=7&x=%2F', '/my/cars?run=7&x=%2F'],
    ['/my', '/my?state=draft&_rsc=1abc', '/my?state=draft'],
    ['/my/setups/new?model=a', '/my/setups/new?model=a&run=b', '/my/setups/new?model=a&run=b'],
    ['/my', '/audit?from=1', '/my'],
    ['/my', '//evil.example/my', '/my'],
    ['/my', 'http://evil.example/my?x', '/my'],
    ['/my', null, '/my'],
  ])('%s asked as %s is %s', (page, asked, back) => {
    expect(wholeAddress(page, asked)).toBe(back);
  });
});
