import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { summariseExif } from '@/lib/files/exifTime';

type Field = { tag: number; ascii?: string; pointer?: number };

/**
 * A TIFF block written by the rules of TIFF 6.0 (section 2) and Exif 2.32 (4.5, 4.6), on its own, so that the reader
 * is not checked against itself: header, main directory, Exif directory, then the texts.
 */
function exifBlock(little: boolean, main: Field[], detail: Field[]): Uint8Array {
  const bytes = new Uint8Array(400);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, little ? 0x4949 : 0x4d4d);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  const mainAt = 8;
  const detailAt = mainAt + 2 + main.length * 12 + 4;
  let textAt = detailAt + 2 + detail.length * 12 + 4;
  const write = (at: number, fields: Field[]) => {
    view.setUint16(at, fields.length, little);
    for (const [i, field] of fields.entries()) {
      const entry = at + 2 + 12 * i;
      view.setUint16(entry, field.tag, little);
      if (field.ascii !== undefined) {
        view.setUint16(entry + 2, 2, little);
        view.setUint32(entry + 4, field.ascii.length + 1, little);
        view.setUint32(entry + 8, textAt, little);
        for (const char of field.ascii) view.setUint8(textAt++, char.charCodeAt(0));
        textAt++;
      } else {
        view.setUint16(entry + 2, 4, little);
        view.setUint32(entry + 4, 1, little);
        view.setUint32(entry + 8, field.pointer ?? detailAt, little);
      }
    }
  };
  write(mainAt, main);
  write(detailAt, detail);
  return bytes.slice(0, textAt);
}

describe('summariseExif', () => {
  for (const little of [true, false]) {
    it(`reads the original time and its offset, ${little ? 'little' : 'big'} endian`, async () => {
      const block = exifBlock(
        little,
        [{ tag: 0x0132, ascii: '2026:06:01 00:00:00' }, { tag: 0x8769 }],
        [
          { tag: 0x9003, ascii: '2026:05:01 10:20:30' },
          { tag: 0x9011, ascii: '-03:30' },
        ],
      );
      expect(await summariseExif(block)).toEqual({
        captureTime: { local: '2026-05-01T10:20:30', offsetMinutes: -210 },
        hasLocation: false,
      });
    });
  }

  it('reads behind the prefix that JPEG puts first, falls back on the time of change, sees a place', async () => {
    const block = exifBlock(
      true,
      [
        { tag: 0x0132, ascii: '2026:06:01 00:00:00' },
        { tag: 0x8825, pointer: 26 },
      ],
      [],
    );
    const prefixed = new Uint8Array([0x45, 0x78, 0x69, 0x66, 0, 0, ...block]);
    expect(await summariseExif(prefixed)).toEqual({
      captureTime: { local: '2026-06-01T00:00:00', offsetMinutes: null },
      hasLocation: true,
    });
  });

  it.each([
    '0000:00:00 00:00:00',
    '2026:02:31 10:00:00',
    '    :  :     :  :  ',
    '2026-05-01 10:20:30',
    '2026:05:01 25:00:00',
  ])('takes "%s" for a clock that was not set', async (ascii) => {
    expect((await summariseExif(exifBlock(true, [{ tag: 0x0132, ascii }], []))).captureTime).toBeNull();
  });

  it('survives any bytes, and any damage to a sound block', async () => {
    const sound = exifBlock(true, [{ tag: 0x8769 }], [{ tag: 0x9003, ascii: '2026:05:01 10:20:30' }]);
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), async (bytes) => void (await summariseExif(bytes))),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.nat({ max: sound.length - 1 }),
        fc.nat({ max: 255 }),
        fc.nat({ max: sound.length }),
        async (at, byte, length) => {
          const damaged = sound.slice();
          damaged[at] = byte;
          const time = (await summariseExif(damaged.slice(0, length))).captureTime;
          expect(time === null || /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d$/.test(time.local)).toBe(true);
        },
      ),
    );
  });
});
