import { Resvg } from '@resvg/resvg-js';
import type { DemoPhoto } from '../world/types';
import { strokeText, strokeWidthOf } from './strokes';

/** The drawing's own units; it is rendered at four fifths of them, which leaves its digits legible. */
const WIDTH = 480;
const HEIGHT = 320;
const RENDERED_WIDTH_PX = 384;
const MARGIN = 28;

/** A neutral list of numbers, dark on light: stands in for the photo of a display. */
export function photoSvg(photo: DemoPhoto): string {
  const heading = strokeText(photo.heading, MARGIN, 22, 2.1);
  const top = 66;
  const step = Math.min(46, (HEIGHT - top - 14) / photo.lines.length);
  const rows = photo.lines.map(([label, value, unit], index) => {
    const y = top + index * step;
    return {
      label: strokeText(label, MARGIN, y + 7, 1.8),
      value: strokeText(value, 372 - strokeWidthOf(value, 3.4), y, 3.4),
      unit: strokeText(unit, 384, y + 8, 1.6),
    };
  });
  const thin = [heading, ...rows.flatMap((row) => [row.label, row.unit])].join('');
  const bold = rows.map((row) => row.value).join('');
  const { rightBy, downBy, turnedDeg, enlargedBy, patches } = photo.held;
  const [marginX, marginY] = [WIDTH, HEIGHT].map((side) => ((1 - enlargedBy) * side) / 2);
  const held = [
    `rotate(${turnedDeg} ${WIDTH / 2} ${HEIGHT / 2})`,
    `translate(${(marginX ?? 0) + rightBy} ${(marginY ?? 0) + downBy})`,
    `scale(${enlargedBy})`,
  ].join(' ');
  const shade = patches.map(
    ({ x, y, radius, isLight, opacity }) =>
      `<circle cx="${x}" cy="${y}" r="${radius}" fill="${isLight ? '#fff' : '#000'}" fill-opacity="${opacity}"/>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}">`,
    // The car around the display, which no photo shows in the same place.
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#8a857a"/>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#f2f0ea" transform="${held}"/>`,
    ...shade,
    `<g transform="${held}"><path d="M${MARGIN} 50H${WIDTH - MARGIN}" stroke="#b9b4a8" stroke-width="1"/>`,
    `<g fill="none" stroke="#23211d" stroke-linecap="round" stroke-linejoin="round">`,
    `<path d="${thin}" stroke-width="1.7"/><path d="${bold}" stroke-width="2.8"/></g></g></svg>`,
  ].join('');
}

/** The photo as PNG bytes. */
export function drawPhoto(photo: DemoPhoto): Uint8Array {
  return new Resvg(photoSvg(photo), {
    fitTo: { mode: 'width', value: RENDERED_WIDTH_PX },
    font: { loadSystemFonts: false },
  })
    .render()
    .asPng();
}
