import type { Tie } from './testerClusters';

/** A photo of a run that counts. */
export interface CountedPicture {
  tester: string;
  /** Digests as kept and as sent; of its thumbnail apart, since that is another picture to a browser. */
  sha256: string;
  sourceSha256: string | null;
  thumbSha256: string;
  /** 64 bits; null where nothing is to be seen. */
  pictureHash: bigint | null;
  /** A steward looked at its run and let it count. */
  isJudged: boolean;
}

const BANDS = 4;
const BAND_BITS = 16;

/**
 * Testers whose photos are the same, or look the same where no steward judged that they only look it: a likeness may be
 * chance, so a judgement unties; a file that is the same is no chance.
 *
 * Hashes within `upToBits` < 8 of each other have one of their four bands of 16 bits in common but for one bit
 * (pigeonhole principle), so each is looked up under 17 keys a band and never held against all.
 */
export function pictureTies(pictures: readonly CountedPicture[], upToBits: number): Tie[] {
  const ties = new Map<string, Tie>();
  const tie = (a: string, b: string) => {
    if (a === b) return;
    const [first, second] = a < b ? [a, b] : [b, a];
    ties.set(`${first} ${second}`, [first, second]);
  };
  tieSame(pictures, tie);
  tieAlike(pictures, upToBits, tie);
  return [...ties.values()].sort((a, b) => (a.join() < b.join() ? -1 : 1));
}

type TieTwo = (a: string, b: string) => void;

function tieSame(pictures: readonly CountedPicture[], tie: TieTwo): void {
  const byDigest = new Map<string, string>();
  const byThumb = new Map<string, string>();
  for (const { tester, sha256, sourceSha256, thumbSha256 } of pictures) {
    for (const digest of [sha256, sourceSha256]) {
      if (digest === null) continue;
      const known = byDigest.get(digest);
      if (known === undefined) byDigest.set(digest, tester);
      else tie(known, tester);
    }
    if (!byThumb.has(thumbSha256)) byThumb.set(thumbSha256, tester);
  }
  // Saved from a page: what was sent is somebody's thumbnail.
  for (const { tester, sourceSha256 } of pictures) {
    const of = sourceSha256 === null ? undefined : byThumb.get(sourceSha256);
    if (of !== undefined) tie(of, tester);
  }
}

function tieAlike(pictures: readonly CountedPicture[], upToBits: number, tie: TieTwo): void {
  const seen = pictures.filter(({ pictureHash, isJudged }) => pictureHash !== null && !isJudged);
  const bits = seen.map(({ pictureHash }) => halves(pictureHash as bigint));
  const byBand = Array.from({ length: BANDS }, () => new Map<number, number[]>());
  seen.forEach(({ tester }, i) => {
    const own = bits[i] as readonly [number, number];
    const bands = bandsOf(own);
    for (const [place, band] of bands.entries()) {
      const index = byBand[place] as Map<number, number[]>;
      for (let flipped = -1; flipped < BAND_BITS; flipped++) {
        for (const j of index.get(flipped < 0 ? band : band ^ (1 << flipped)) ?? []) {
          const other = bits[j] as readonly [number, number];
          if (ones(own[0] ^ other[0]) + ones(own[1] ^ other[1]) <= upToBits)
            tie((seen[j] as CountedPicture).tester, tester);
        }
      }
    }
    for (const [place, band] of bands.entries()) {
      const index = byBand[place] as Map<number, number[]>;
      const there = index.get(band);
      if (there === undefined) index.set(band, [i]);
      else there.push(i);
    }
  });
}

function halves(hash: bigint): readonly [number, number] {
  const bits = BigInt.asUintN(64, hash);
  return [Number(bits >> 32n) | 0, Number(bits & 0xffffffffn) | 0];
}

function bandsOf([high, low]: readonly [number, number]): number[] {
  return [high >>> 16, high & 0xffff, low >>> 16, low & 0xffff];
}

/** How many bits of 32 are set: Warren H. S., Hacker's Delight, 2nd ed., figure 5-2. */
function ones(word: number): number {
  let x = word - ((word >>> 1) & 0x55555555);
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  x = (x + (x >>> 4)) & 0x0f0f0f0f;
  return Math.imul(x, 0x01010101) >>> 24;
}
