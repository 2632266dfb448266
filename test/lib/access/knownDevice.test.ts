import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceOfMark, newDeviceMark } from '@/lib/access/knownDevice';

const email = 'oda.lind@people.example';

describe('the mark of a known device', () => {
  it('names the device for its own address alone, however that is typed', () => {
    const mark = newDeviceMark('secret', email);
    const device = deviceOfMark('secret', email, mark);
    expect(device).toMatch(/^[A-Za-z0-9_-]{22}$/);
    expect(deviceOfMark('secret', ' Oda.Lind@People.example ', mark)).toBe(device);
    expect(deviceOfMark('secret', 'other@people.example', mark)).toBeUndefined();
    expect(deviceOfMark('another secret', email, mark)).toBeUndefined();
    expect(newDeviceMark('secret', email)).not.toBe(mark);
  });

  it('is not made by anybody without the secret', () => {
    expect(deviceOfMark('secret', email, undefined)).toBeUndefined();
    const mark = newDeviceMark('secret', email);
    fc.assert(
      fc.property(fc.nat({ max: mark.length - 1 }), fc.constantFrom(...'AQgw_-.'), (at, other) => {
        fc.pre(mark[at] !== other);
        const forged = `${mark.slice(0, at)}${other}${mark.slice(at + 1)}`;
        expect(deviceOfMark('secret', email, forged)).toBeUndefined();
      }),
    );
    fc.assert(fc.property(fc.string(), (text) => deviceOfMark('secret', email, text) === undefined));
  });
});
