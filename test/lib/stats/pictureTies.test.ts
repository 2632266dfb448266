import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differingBits, NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { type CountedPicture, pictureTies } from '@/lib/stats/pictureTies';

let files = 0;
function picture(tester: string, own: Partial<CountedPicture> = {}): CountedPicture {
  files += 1;
  return {
    tester,
    sha256: `file ${files}`,
    sourceSha256: null,
    thumbSha256: `thumb ${files}`,
    pictureHash: null,
    isJudged: false,
    ...own,
  };
}

describe('testers whose photos are the same', () => {
  it('are tied, as the file is kept, as it was sent, and as saved from a page', () => {
    const ties = pictureTies(
      [
        picture('al', { sha256: 'x', thumbSha256: 'small' }),
        picture('bo', { sha256: 'x' }),
        picture('cy', { sourceSha256: 'x' }),
        picture('di', { sourceSha256: 'small' }),
        picture('ed', { thumbSha256: 'another' }),
      ],
      NEARLY_SAME_BITS,
    );
    expect(ties).toEqual([
      ['al', 'bo'],
      ['al', 'cy'],
      ['al', 'di'],
    ]);
  });

  it('are not told apart by a judgement, as a likeness is', () => {
    const judged = { pictureHash: 5n, isJudged: true };
    expect(pictureTies([picture('al', { pictureHash: 5n }), picture('bo', judged)], 7)).toEqual([]);
    expect(
      pictureTies([picture('al', { sha256: 'x' }), picture('bo', { ...judged, sha256: 'x' })], 7),
    ).toEqual([['al', 'bo']]);
  });
});

describe('photos that look the same', () => {
  const hash = fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n });
  /** The hash with so many bits turned. */
  const turned = (of: bigint, bits: readonly number[]) =>
    bits.reduce((made, bit) => BigInt.asIntN(64, made ^ (1n << BigInt(bit))), of);

  it('are found wherever the bits differ, as by holding each against all', () => {
    const near = fc.tuple(hash, fc.uniqueArray(fc.nat(63), { maxLength: 10 }));
    fc.assert(
      fc.property(fc.array(near, { minLength: 1, maxLength: 12 }), (pairs) => {
        const pictures = pairs.flatMap(([own, bits], i) => [
          picture(`a${i}`, { pictureHash: own }),
          picture(`b${i}`, { pictureHash: turned(own, bits) }),
        ]);
        const all = pictures.flatMap((a, i) =>
          pictures
            .slice(i + 1)
            .filter((b) => differingBits(a.pictureHash ?? 0n, b.pictureHash ?? 0n) <= NEARLY_SAME_BITS)
            .map((b) => [a.tester, b.tester].sort().join()),
        );
        const found = pictureTies(pictures, NEARLY_SAME_BITS).map((tie) => tie.join());
        expect(found).toEqual([...new Set(all)].sort());
      }),
    );
  });
});
