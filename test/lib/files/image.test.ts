import { crc32, deflateSync } from 'node:zlib';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { acceptImage, imageLimits } from '@/lib/files/image';

const xmp =
  '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" dc:creator="SecretOwner"/></rdf:RDF></x:xmpmeta>';

/** A 120 × 80 picture, left half dark and right half light, so that turning it can be seen. */
function picture() {
  const data = Buffer.alloc(120 * 80 * 3);
  for (let i = 0; i < 120 * 80; i++) data.fill(i % 120 < 60 ? 20 : 230, i * 3, i * 3 + 3);
  return sharp(data, { raw: { width: 120, height: 80, channels: 3 } });
}

function laden(orientation: number) {
  return picture()
    .withExif({
      IFD0: { Make: 'SecretMaker', Model: 'SecretModel', DateTime: '2026:05:01 09:00:00' },
      IFD2: {
        DateTimeOriginal: '2026:05:01 08:59:58',
        OffsetTimeOriginal: '+02:00',
        BodySerialNumber: 'SecretSerial',
      },
      IFD3: {
        GPSLatitudeRef: 'N',
        GPSLatitude: '12/1 34/1 56/1',
        GPSLongitudeRef: 'E',
        GPSLongitude: '7/1 8/1 9/1',
      },
    })
    .withXmp(xmp)
    .withIccProfile('p3')
    .withMetadata({ orientation });
}

/** The markers of a JPEG up to the first scan (ISO/IEC 10918-1, B.1.1). */
function jpegMarkers(bytes: Uint8Array): number[] {
  const markers: number[] = [];
  let at = 2;
  while (at + 4 <= bytes.length) {
    const marker = ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
    markers.push(marker);
    if (marker === 0xffda) break;
    at += 2 + (((bytes[at + 2] ?? 0) << 8) | (bytes[at + 3] ?? 0));
  }
  return markers;
}

/** A PNG that is a header and almost nothing else (ISO/IEC 15948, clause 11): the size is a promise of pixels. */
function pngOfSize(width: number, height: number): Uint8Array {
  const chunk = (type: string, body: Uint8Array) => {
    const named = Buffer.concat([Buffer.from(type, 'latin1'), body]);
    const frame = Buffer.alloc(8);
    frame.writeUInt32BE(body.length, 0);
    frame.writeUInt32BE(crc32(named), 4);
    return Buffer.concat([frame.subarray(0, 4), named, frame.subarray(4)]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header[8] = 8;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.alloc(1000))),
    chunk('IEND', new Uint8Array()),
  ]);
}

describe('acceptImage strips everything but the pixels', () => {
  it('leaves no EXIF, place, XMP or profile in a JPEG, and says what it took out', async () => {
    const original = await laden(1).jpeg().toBuffer();
    for (const secret of ['SecretMaker', 'SecretSerial', 'SecretOwner'])
      expect(original.includes(secret)).toBe(true);
    const result = await acceptImage(original);
    if (!result.ok) throw new Error(result.message);
    expect(result.removed).toEqual(['exif', 'location', 'xmp', 'colourProfile']);
    for (const kept of [result.image, result.thumbnail]) {
      const metadata = await sharp(kept.bytes).metadata();
      expect([metadata.exif, metadata.xmp, metadata.icc, metadata.iptc, metadata.orientation]).toEqual([
        undefined,
        undefined,
        undefined,
        undefined,
        undefined,
      ]);
      for (const secret of ['Secret', 'Exif', 'xap', 'ICC_PROFILE', 'GPS', 'Photoshop']) {
        expect(Buffer.from(kept.bytes).includes(secret)).toBe(false);
      }
    }
    // APP1 (EXIF, XMP), APP2 (profile), APP13 (IPTC) and comments are gone; APP0 is the plain JFIF header.
    const markers = jpegMarkers(result.image.bytes);
    expect(markers.filter((m) => (m >= 0xffe1 && m <= 0xffef) || m === 0xfffe)).toEqual([]);
  });

  it.each(['png', 'webp', 'avif'] as const)('strips %s as well', async (format) => {
    const original = await laden(1)[format]().toBuffer();
    expect(original.includes('SecretMaker')).toBe(true);
    const result = await acceptImage(original);
    if (!result.ok) throw new Error(result.message);
    expect(result.captureTime).toEqual({ local: '2026-05-01T08:59:58', offsetMinutes: 120 });
    expect(result.removed).toContain('location');
    expect(Buffer.from(result.image.bytes).includes('Secret')).toBe(false);
    expect(result.image.mediaType).toBe('image/jpeg');
  });

  it('drops bytes hidden behind the picture', async () => {
    const original = Buffer.concat([await picture().jpeg().toBuffer(), Buffer.from('PK-HiddenArchive')]);
    const result = await acceptImage(original);
    if (!result.ok) throw new Error(result.message);
    expect(Buffer.from(result.image.bytes).includes('HiddenArchive')).toBe(false);
  });

  it('turns the pixels upright before the orientation is dropped', async () => {
    // Orientation 6: the stored rows are the scene's columns, turn by 90° clockwise (Exif 2.32, tag 0x0112).
    const result = await acceptImage(await laden(6).jpeg().toBuffer());
    if (!result.ok) throw new Error(result.message);
    expect([result.image.widthPx, result.image.heightPx]).toEqual([80, 120]);
    const { data, info } = await sharp(result.image.bytes)
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect(data[10 * info.width + 40]).toBeLessThan(60);
    expect(data[110 * info.width + 40]).toBeGreaterThan(190);
  });

  it('shrinks to the limits and never enlarges', async () => {
    const wide = await sharp({ create: { width: 5000, height: 100, channels: 3, background: '#888' } })
      .png()
      .toBuffer();
    const result = await acceptImage(wide);
    if (!result.ok) throw new Error(result.message);
    expect(result.image.widthPx).toBe(imageLimits.maxEdge);
    expect(result.thumbnail.widthPx).toBe(imageLimits.thumbnailEdge);
    const small = await acceptImage(await picture().png().toBuffer());
    expect(small.ok && small.thumbnail.widthPx).toBe(120);
  });
});

describe('acceptImage refuses', () => {
  const refusal = async (bytes: Uint8Array) => {
    const result = await acceptImage(bytes);
    return result.ok ? 'accepted' : `${result.reason} ${result.status}`;
  };

  it('too many bytes, before looking at any', async () => {
    expect(await refusal(new Uint8Array(imageLimits.maxBytes + 1))).toBe('tooLarge 413');
  });

  it('a small file that promises 2.5 thousand million pixels, without unpacking it', async () => {
    const before = process.memoryUsage().rss;
    expect(await refusal(pngOfSize(50_000, 50_000))).toBe('tooManyPixels 413');
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6);
  });

  it('one row of pixels over the limit', async () => {
    expect(await refusal(pngOfSize(10_000, 6001))).toBe('tooManyPixels 413');
  });

  it.each([
    ['nothing', ''],
    ['text', 'just some words'],
    ['a page with a script', '<html><script>alert(1)</script></html>'],
    ['a PDF', '%PDF-1.7\n1 0 obj'],
  ])('%s', async (_name, text) => {
    expect(await refusal(Buffer.from(text))).toBe('notAnImage 415');
  });

  it('an SVG, which can hold scripts and addresses, and a GIF', async () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>alert(1)</script></svg>';
    expect(await refusal(Buffer.from(svg))).toMatch(/ 415$/);
    expect(await refusal(await picture().gif().toBuffer())).toBe('unsupportedFormat 415');
  });

  it('a JPEG name on other content, and a JPEG that ends in the middle', async () => {
    expect(await refusal(Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(500, 7)]))).toBe(
      'damaged 422',
    );
    const whole = await picture().resize(800, 600).jpeg().toBuffer();
    expect(await refusal(whole.subarray(0, Math.floor(whole.length / 2)))).toBe('damaged 422');
  });

  it('HEIC by name when the decoder lacks it', async () => {
    const box = Buffer.concat([
      Buffer.from([0, 0, 0, 24]),
      Buffer.from('ftypheic\0\0\0\0mif1heic', 'latin1'),
    ]);
    expect(await refusal(Buffer.concat([box, Buffer.alloc(200)]))).toBe('unsupportedFormat 415');
  });

  it('any damage as data, never as an exception', async () => {
    const sound = [
      await laden(6).jpeg().toBuffer(),
      await laden(1).webp().toBuffer(),
      await laden(1).png().toBuffer(),
    ];
    await fc.assert(
      fc.asyncProperty(
        fc.nat({ max: 2 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.array(fc.tuple(fc.nat({ max: 5000 }), fc.nat({ max: 255 })), { maxLength: 8 }),
        async (which, share, changes) => {
          const source = sound[which] as Buffer;
          const damaged = Buffer.from(source.subarray(0, Math.ceil(source.length * share)));
          for (const [at, byte] of changes) if (damaged.length > 0) damaged[at % damaged.length] = byte;
          const result = await acceptImage(damaged);
          expect(result.ok || [413, 415, 422].includes(result.status)).toBe(true);
          if (result.ok) expect(Buffer.from(result.image.bytes).includes('Secret')).toBe(false);
        },
      ),
      { numRuns: 60 },
    );
  }, 30_000);
});
