/**
 * What a picture looks like, in 64 bits: pictures that differ in few of them look alike, however they were encoded. The
 * hash is the library's: the signs, about their mean, of the 8 × 8 lowest frequencies of a cosine transform of 32 × 32
 * grey pixels.
 */
import sharp from 'sharp';
import phash from 'sharp-phash';

const BITS = 64;

/**
 * So many bits may differ between pictures that count as nearly the same. Measured over drawn dashboards (the tests
 * state the rates): the same picture recompressed, made smaller, brighter, darker or cropped by 1 % of each side stays
 * within; two photos of one display from another place do not.
 */
export const NEARLY_SAME_BITS = 7;

/** One more than the bits that may differ: then one band at least is the same in both (pigeonhole principle). */
const BANDS = NEARLY_SAME_BITS + 1;
const BAND_BITS = BITS / BANDS;

/** The library's own: it is given the picture at this size already. */
const SIDE = 32;

/** Grey levels of 255 from the darkest to the lightest; below, a hash is one of noise (our own choice). */
const LEAST_SPREAD = 8;

/**
 * @param picture the thumbnail: it is there for every photo, was decoded within limits, and has the same pixels
 * whenever it is asked
 * @returns a signed number, as a database keeps 64 bits; null for a picture on which nothing is to be seen
 */
export async function pictureHash(picture: Uint8Array): Promise<bigint | null> {
  const raw = { width: SIDE, height: SIDE, channels: 1 } as const;
  const grey = await sharp(picture).greyscale().resize(SIDE, SIDE, { fit: 'fill' }).raw().toBuffer();
  if (Math.max(...grey) - Math.min(...grey) < LEAST_SPREAD) return null;
  return BigInt.asIntN(BITS, BigInt(`0b${await phash(grey, { raw })}`));
}

/** Each byte of the hash with its place: place × 256 + byte. Two hashes within the limit have one in common. */
export function bandsOf(hash: bigint | null): number[] {
  if (hash === null) return [];
  const bits = BigInt.asUintN(BITS, hash);
  return Array.from({ length: BANDS }, (_, place) => {
    const byte = Number((bits >> BigInt(place * BAND_BITS)) & ((1n << BigInt(BAND_BITS)) - 1n));
    return place * 2 ** BAND_BITS + byte;
  });
}

/** In how many bits two hashes differ. */
export function differingBits(a: bigint, b: bigint): number {
  let count = 0;
  for (let bits = BigInt.asUintN(BITS, a ^ b); bits > 0n; bits &= bits - 1n) count += 1;
  return count;
}
