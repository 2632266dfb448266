/**
 * A plain stroke alphabet of our own, so that the demo photos need no font: each glyph is a set of strokes on a grid
 * four wide and six high, y downwards, written as "x,y x,y" with strokes parted by "|".
 */
const GLYPHS: Readonly<Record<string, string>> = {
  '0': '1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0',
  '1': '1,1 2,0 2,6|1,6 3,6',
  '2': '0,1 1,0 3,0 4,1 4,2 0,6 4,6',
  '3': '0,1 1,0 3,0 4,1 4,2 3,3 4,4 4,5 3,6 1,6 0,5|1.5,3 3,3',
  '4': '3,6 3,0 0,4 4,4',
  '5': '4,0 0,0 0,2.5 3,2.5 4,3.5 4,5 3,6 1,6 0,5',
  '6': '4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5 4,4 3,3 0,3',
  '7': '0,0 4,0 1.5,6',
  '8': '1,0 3,0 4,1 4,2 3,3 1,3 0,2 0,1 1,0|1,3 0,4 0,5 1,6 3,6 4,5 4,4 3,3',
  '9': '0,5 1,6 3,6 4,5 4,1 3,0 1,0 0,1 0,2 1,3 4,3',
  '.': '1.8,5.8 2.2,5.8 2.2,6 1.8,6 1.8,5.8',
  ':': '2,1.8 2,2.2|2,4.4 2,4.8',
  '-': '0.8,3 3.2,3',
  '/': '0.5,6 3.5,0',
  '%': '0.3,6 3.7,0|0.6,0.4 1.4,0.4 1.4,1.4 0.6,1.4 0.6,0.4|2.6,4.6 3.4,4.6 3.4,5.6 2.6,5.6 2.6,4.6',
  A: '0,6 2,0 4,6|0.7,4 3.3,4',
  B: '0,0 0,6 3,6 4,5 4,4 3,3 4,2 4,1 3,0 0,0|0,3 3,3',
  C: '4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5',
  D: '0,0 0,6 2.5,6 4,4.5 4,1.5 2.5,0 0,0',
  E: '4,0 0,0 0,6 4,6|0,3 3,3',
  F: '4,0 0,0 0,6|0,3 3,3',
  G: '4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5 4,3.4 2.4,3.4',
  H: '0,0 0,6|4,0 4,6|0,3 4,3',
  I: '1,0 3,0|2,0 2,6|1,6 3,6',
  J: '1.5,0 4,0|3,0 3,5 2,6 1,6 0,5',
  K: '0,0 0,6|4,0 0,3.4|1.3,2.4 4,6',
  L: '0,0 0,6 4,6',
  M: '0,6 0,0 2,3 4,0 4,6',
  N: '0,6 0,0 4,6 4,0',
  O: '1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0',
  P: '0,6 0,0 3,0 4,1 4,2.2 3,3.2 0,3.2',
  Q: '1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0|2.6,4.6 4,6',
  R: '0,6 0,0 3,0 4,1 4,2.2 3,3.2 0,3.2|2,3.2 4,6',
  S: '4,1 3,0 1,0 0,1 0,2 1,3 3,3 4,4 4,5 3,6 1,6 0,5',
  T: '0,0 4,0|2,0 2,6',
  U: '0,0 0,5 1,6 3,6 4,5 4,0',
  V: '0,0 2,6 4,0',
  W: '0,0 1,6 2,3 3,6 4,0',
  X: '0,0 4,6|4,0 0,6',
  Y: '0,0 2,3 4,0|2,3 2,6',
  Z: '0,0 4,0 0,6 4,6',
  h: '0,0 0,6|0,3.4 1,2.4 2.4,2.4 3.4,3.4 3.4,6',
  i: '2,2.4 2,6|2,0.8 2,1.2',
  k: '0,0 0,6|3,2.4 0,4.6|1,3.9 3.2,6',
  m: '0,6 0,2.4|0,3 0.6,2.4 1.4,2.4 2,3 2,6|2,3 2.6,2.4 3.4,2.4 4,3 4,6',
  n: '0,6 0,2.4|0,3.2 0.9,2.4 2.2,2.4 3.2,3.4 3.2,6',
  p: '0,2.4 0,7.6|0,3 0.8,2.4 2.4,2.4 3.2,3.2 3.2,5.2 2.4,6 0.8,6 0,5.2',
  ' ': '',
};

const ADVANCE = 5.6;

/** The path data of a text whose glyphs are six units high times `scale`, its top left corner at (x, y). */
export function strokeText(text: string, x: number, y: number, scale: number): string {
  const parts: string[] = [];
  [...text].forEach((character, index) => {
    const glyph = GLYPHS[character];
    if (glyph === undefined) throw new RangeError(`the stroke alphabet has no “${character}”`);
    const left = x + index * ADVANCE * scale;
    for (const stroke of glyph.split('|').filter((each) => each !== '')) {
      const points = stroke.split(' ').map((point) => {
        const [px = 0, py = 0] = point.split(',').map(Number);
        return `${(left + px * scale).toFixed(1)} ${(y + py * scale).toFixed(1)}`;
      });
      parts.push(`M${points.join('L')}`);
    }
  });
  return parts.join('');
}

export function strokeWidthOf(text: string, scale: number): number {
  return ([...text].length * ADVANCE - 1.6) * scale;
}
