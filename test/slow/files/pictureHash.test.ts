import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { acceptImage } from '@/lib/files/image';
import { bandsOf, differingBits, NEARLY_SAME_BITS, pictureHash } from '@/lib/files/pictureHash';
import { ALTERATIONS, dashboardPhoto } from '@/test/lib/files/dashboards';

const CARS = 5;
const PHOTOS = 5;

async function hashed(bytes: Uint8Array): Promise<bigint> {
  const hash = await pictureHash(bytes);
  if (hash === null) throw new Error('nothing to be seen');
  return hash;
}

const photos = await Promise.all(
  Array.from({ length: CARS * PHOTOS }, async (_, index) => {
    const car = index % CARS;
    const bytes = await dashboardPhoto(car, Math.floor(index / CARS));
    return { car, bytes, hash: await hashed(bytes) };
  }),
);

describe('the hash of a picture', () => {
  /**
   * Of 25 photos of 5 displays: the share that is found again. Of a crop by 2 % of each side most are, of one by 4 % a
   * quarter; what lies beyond 1 % is therefore not promised.
   */
  it.each([
    ['recompressed', 1],
    ['smaller', 1],
    ['brighter', 1],
    ['darker', 1],
    ['cropped by 1 %', 0.95],
    ['cropped by 2 %', 0.6],
  ] as const)('finds a picture again that was %s', async (alteration, least) => {
    const distances = await Promise.all(
      photos.map(async ({ bytes, hash }) =>
        differingBits(hash, await hashed((await ALTERATIONS[alteration]?.(bytes)) ?? bytes)),
      ),
    );
    const found = distances.filter((bits) => bits <= NEARLY_SAME_BITS).length / photos.length;
    expect(found).toBeGreaterThanOrEqual(least);
  });

  it('tells different photos apart, of one display as of different ones', () => {
    const pairs = photos.flatMap((a, place) =>
      photos.slice(0, place).map((b) => ({ isOneCar: a.car === b.car, bits: differingBits(a.hash, b.hash) })),
    );
    for (const isOneCar of [true, false]) {
      const bits = pairs.filter((pair) => pair.isOneCar === isOneCar).map((pair) => pair.bits);
      expect(bits.length).toBe(isOneCar ? 50 : 250);
      expect(Math.min(...bits)).toBeGreaterThan(NEARLY_SAME_BITS);
    }
  });

  it('is that of the thumbnail, which stays when the hash is to be made again', async () => {
    const accepted = await acceptImage(photos[0]?.bytes ?? new Uint8Array());
    if (!accepted.ok) throw new Error(accepted.message);
    expect(accepted.hash).toBe(await hashed(accepted.thumbnail.bytes));
    expect(differingBits(accepted.hash ?? 0n, photos[0]?.hash ?? 0n)).toBeLessThanOrEqual(2);
  });

  it('is none where nothing is to be seen', async () => {
    const flat = sharp({ create: { width: 64, height: 48, channels: 3, background: '#c8c0b0' } });
    expect(await pictureHash(await flat.webp().toBuffer())).toBeNull();
  });
});

describe('the bands of a hash', () => {
  const hash = fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n });

  it('have one in common wherever no more bits differ than are searched for', () => {
    fc.assert(
      fc.property(
        hash,
        fc.uniqueArray(fc.integer({ min: 0, max: 63 }), { maxLength: NEARLY_SAME_BITS }),
        (a, places) => {
          const b = BigInt.asIntN(
            64,
            places.reduce((bits, place) => bits ^ (1n << BigInt(place)), a),
          );
          expect(differingBits(a, b)).toBe(places.length);
          expect(bandsOf(b).some((band) => bandsOf(a).includes(band))).toBe(true);
        },
      ),
    );
  });

  it('are none without a hash, and eight bytes with their places otherwise', () => {
    expect(bandsOf(null)).toEqual([]);
    expect(bandsOf(0x0102030405060708n)).toEqual([
      8,
      256 + 7,
      512 + 6,
      768 + 5,
      1024 + 4,
      1280 + 3,
      1536 + 2,
      1793,
    ]);
    expect(bandsOf(-1n)).toEqual([0, 1, 2, 3, 4, 5, 6, 7].map((place) => 256 * place + 255));
  });
});
