import sharp from 'sharp';
import { RandomStream } from '@/prisma/demo/world/randomStream';

const WIDTH = 640;
const HEIGHT = 480;

/** Segments of a seven-segment digit, a to g, in a box of 10 by 18. */
const SEGMENTS = ['1 0 8 2', '8 1 2 8', '8 9 2 8', '1 16 8 2', '0 9 2 8', '0 1 2 8', '1 8 8 2'];
const DIGITS = ['abcdef', 'bc', 'abged', 'abgcd', 'fgbc', 'afgcd', 'afgedc', 'abc', 'abcdefg', 'abcdfg'];

function digitsAt(text: string, x: number, y: number, size: number): string {
  return [...text]
    .flatMap((digit, place) =>
      [...(DIGITS[Number(digit)] ?? '')].map((segment) => {
        const [left = 0, top = 0, width = 0, height = 0] = (SEGMENTS[segment.charCodeAt(0) - 97] ?? '')
          .split(' ')
          .map(Number);
        return `<rect x="${x + (place * 14 + left) * size}" y="${y + top * size}" width="${width * size}" height="${height * size}"/>`;
      }),
    )
    .join('');
}

/** A car's display, the same for every photo of it: three panels, each with a number, on a dark ground. */
function display(model: number, numbers: RandomStream): string {
  const layout = new RandomStream(model, 'layout');
  const panels = [0, 1, 2].map((place) => {
    const x = 20 + place * 205 + layout.uniform(-10, 10);
    const y = layout.uniform(60, 200);
    const height = layout.uniform(120, 230);
    const shade = Math.round(layout.uniform(25, 90));
    const number = String(Math.floor(numbers.uniform(100, 999)));
    return `<rect x="${x}" y="${y}" width="190" height="${height}" rx="12" fill="rgb(${shade},${shade},${shade + 12})"/>
      <g fill="#e8ecf0">${digitsAt(number, x + 20, y + height / 2 - 30, 3.4)}</g>`;
  });
  return `<rect x="-200" y="-200" width="1040" height="880" fill="#15171c"/>${panels.join('')}
    <rect x="-200" y="400" width="1040" height="300" fill="#3a342c"/>`;
}

/**
 * A photo of the display of a car, as held in the hand: each photo from another place, at another angle, in another
 * light and with other numbers.
 *
 * @param car cars with one number have one display
 * @param photo two photos of one number are one picture
 */
export function dashboardPhoto(car: number, photo: number): Promise<Buffer> {
  const hand = new RandomStream(photo, `hand of car ${car}`);
  const turn = hand.uniform(-6, 6);
  const scale = hand.uniform(0.85, 1.2);
  const [dx, dy] = [hand.uniform(-45, 45), hand.uniform(-35, 35)];
  const [sunX, sunY] = [hand.uniform(0, 100), hand.uniform(0, 100)];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}">
    <defs><radialGradient id="sun" cx="${sunX}%" cy="${sunY}%" r="${hand.uniform(30, 70)}%">
      <stop offset="0" stop-color="#fff" stop-opacity="${hand.uniform(0.1, 0.5)}"/><stop offset="1" stop-color="#fff" stop-opacity="0"/>
    </radialGradient></defs>
    <g transform="translate(${320 + dx} ${240 + dy}) rotate(${turn}) scale(${scale}) translate(-320 -240)">${display(car, hand)}</g>
    <rect width="100%" height="100%" fill="url(#sun)"/></svg>`;
  return sharp(Buffer.from(svg)).jpeg({ quality: 92 }).toBuffer();
}

/** One picture sent again in other words: what a mail program, a messenger or an editor makes of it. */
export const ALTERATIONS: Readonly<Record<string, (picture: Buffer) => Promise<Buffer>>> = {
  recompressed: (picture) => sharp(picture).jpeg({ quality: 35 }).toBuffer(),
  smaller: (picture) => sharp(picture).resize(300).webp({ quality: 60 }).toBuffer(),
  brighter: (picture) => sharp(picture).modulate({ brightness: 1.25 }).jpeg().toBuffer(),
  darker: (picture) => sharp(picture).modulate({ brightness: 0.75 }).jpeg().toBuffer(),
  'cropped by 1 %': (picture) => cropped(picture, 0.01),
  'cropped by 2 %': (picture) => cropped(picture, 0.02),
  'cropped by 4 %': (picture) => cropped(picture, 0.04),
};

/** Off each edge, the share of the side. */
function cropped(picture: Buffer, share: number): Promise<Buffer> {
  const [left, top] = [Math.round(WIDTH * share), Math.round(HEIGHT * share)];
  return sharp(picture)
    .extract({ left, top, width: WIDTH - 2 * left, height: HEIGHT - 2 * top })
    .jpeg({ quality: 85 })
    .toBuffer();
}
