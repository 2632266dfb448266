import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clientAddress, proxiesFrom } from '@/lib/access/clientAddress';

// Addresses for documentation: RFC 5737 and RFC 3849.
describe('where a request comes from', () => {
  it('is the peer where no proxy is told of, whatever the sender claims', () => {
    expect(clientAddress('192.0.2.1', undefined, 0)).toBe('192.0.2.1');
    fc.assert(fc.property(fc.string(), (claim) => clientAddress('192.0.2.1', claim, 0) === '192.0.2.1'));
  });

  it('is what the own proxy added last, whatever stands before it', () => {
    const claims = fc.array(
      fc.oneof(
        fc.ipV4(),
        fc.ipV6(),
        fc.string().map((text) => text.replaceAll(',', '')),
      ),
    );
    fc.assert(
      fc.property(claims, (claimed) => {
        const forwarded = [...claimed, '198.51.100.4'].join(', ');
        return clientAddress('127.0.0.1', forwarded, 1) === '198.51.100.4';
      }),
    );
    expect(clientAddress('127.0.0.1', '203.0.113.9, 198.51.100.4, 192.0.2.2', 2)).toBe('198.51.100.4');
  });

  it('is not told for this machine, for what is no address and for a proxy nobody told of', () => {
    for (const peer of ['127.0.0.1', '127.8.8.8', '::1', '::ffff:127.0.0.1', undefined, 'unix'])
      expect(clientAddress(peer, undefined, 0)).toBeUndefined();
    expect(clientAddress('127.0.0.1', '203.0.113.9', 0)).toBeUndefined();
    expect(clientAddress('127.0.0.1', 'unknown', 1)).toBeUndefined();
  });

  it('is the /64 of an IPv6 address, in whichever form it is written', () => {
    for (const [written, network] of [
      ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2::/64'],
      ['2001:0DB8:0001:0002::9', '2001:db8:1:2::/64'],
      ['2001:db8::1', '2001:db8:0:0::/64'],
      ['2001:db8::5:6:7:192.0.2.1', '2001:db8:0:5::/64'],
      ['fe80::1%eth0', 'fe80:0:0:0::/64'],
      ['::ffff:192.0.2.1', '192.0.2.1'],
    ])
      expect(clientAddress(written, undefined, 0)).toBe(network);
  });

  it('counts proxies as they are set, and none where that is no number of them', () => {
    expect(['1', '2', '', undefined, '-1', '1.5', 'yes', '99'].map(proxiesFrom)).toEqual([
      1, 2, 0, 0, 0, 0, 0, 0,
    ]);
  });
});
