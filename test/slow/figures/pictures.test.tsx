import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { markupOf, pictureMarkup, pngFile, svgFile } from '@/app/figures/pictureFile';
import { outlineFonts } from '@/app/figures/pictureFonts';
import { CardPicture } from '@/app/ui/figures/CardPicture';
import type { DrawnFigure } from '@/app/ui/figures/Picture';
import { pictureShapes } from '@/app/ui/figures/pictureShape';
import { pageWords } from '@/app/ui/pageWords';
import { described, drawings } from '@/test/app/ui/figureSamples';
import { all, type Element, only, parse, textOf } from '@/test/app/ui/markup';

const words = { address: 'evenloop.example/compare?class=kmh-110&setup=std&setup=low' };
const sample = (drawing: DrawnFigure['drawing']) => ({ ...described(drawing), drawing });
const shapes = [['natural', undefined] as const, ...pictureShapes];
const fonts = { fontFiles: outlineFonts(), loadSystemFonts: false };

/** The same picture with its words alone. */
const wordsAlone = (markup: string) => markup.replace(/<(path|rect|circle|line)\b[^>]*>(<\/\1>)?/g, '');

/** Where the ink of the words lies, by the outlines of the shipped faces, in units of the viewBox. */
function inkOf(markup: string) {
  const box = new Resvg(wordsAlone(markup), { font: fonts }).getBBox();
  if (box === undefined) throw new Error('no ink');
  return box;
}

/** Rows enough that no fixed shape holds them all, with words as long as people type. */
const crowded: DrawnFigure['drawing'] = {
  kind: 'forest',
  axisLabel: 'difference in consumption from “As delivered, nineteen-inch all-season tyres”, %',
  markLabel: 'this difference alone, 95 %',
  strokesLabel: 'strokes on the thin bar: all of its model at once, 95 %',
  outerLabel: 'all of the ranking at once, 95 %',
  rows: Array.from({ length: 40 }, (_, index) => ({
    key: String(index),
    label: `Low ride height, roof bars without load, doors covered, tyres at 3.${index} bar`,
    estimate: index - 20,
    pointwise: [index - 21, index - 19] as const,
    simultaneous: [index - 23, index - 17] as const,
    text: `−${index}.1 % (−${index}.0 to −1${index}.2)`,
    note: 'probable, rests mainly on one tester',
  })),
};

const figures = [...Object.values(drawings), crowded].map(sample);

describe.each(shapes)('a picture, %s', (_, shape) => {
  it.each(figures.map((figure) => [figure.drawing.kind, figure] as const))(
    'of %s clips no word',
    async (_, figure) => {
      const markup = await pictureMarkup(figure, words, { theme: 'light', shape });
      const [, , width = 0, height = 0] = (only(parse(markup), 'svg').attributes.viewBox ?? '')
        .split(' ')
        .map(Number);
      const ink = inkOf(markup);
      expect(ink.x).toBeGreaterThanOrEqual(0);
      expect(ink.y).toBeGreaterThanOrEqual(0);
      expect(ink.x + ink.width).toBeLessThanOrEqual(width);
      expect(ink.y + ink.height).toBeLessThanOrEqual(height);
    },
  );

  it('says its title, axis with unit, counts, address and date inside', async () => {
    const markup = await pictureMarkup(sample(drawings.forest), words, { theme: 'dark', shape });
    const said = all(parse(markup), 'text').map(textOf).join(' ').replaceAll(' ', '');
    for (const needed of [
      described(drawings.forest).title,
      'difference, %',
      '4 runs · 2 cars',
      words.address,
      'as of 20\u00A0Nov\u00A02026',
      'Demo world: invented data.',
    ]) {
      expect(said).toContain(needed.replaceAll(/[ \u00A0]/g, ''));
    }
  });
});

describe('rows that do not fit', () => {
  it('use the whole width where all of them have to stand', async () => {
    const steps = Array.from({ length: 24 }, (_, index) => ({
      key: String(index),
      label: `step ${index}`,
      from: 200 + index,
      to: 201 + index,
      u: 0.5,
      text: '+1.0 ± 0.5',
      totalText: String(201 + index),
    }));
    const tall = { ...drawings.waterfall, steps } as DrawnFigure['drawing'];
    const shape = pictureShapes.get('wide');
    const markup = await pictureMarkup(sample(tall), words, { theme: 'light', shape });
    const [, , width = 0] = (only(parse(markup), 'svg').attributes.viewBox ?? '').split(' ').map(Number);
    const ink = inkOf(markup);
    expect(textOf(parse(markup))).toContain('step 23');
    expect(ink.x + ink.width).toBeGreaterThan(0.9 * width);
  });

  it('are counted in words', async () => {
    const shape = pictureShapes.get('wide');
    const markup = await pictureMarkup(sample(crowded), words, { theme: 'light', shape });
    const said = textOf(parse(markup));
    const [, shown] = /the first (\d+) of 40 rows/.exec(said) ?? [];
    expect(Number(shown)).toBeGreaterThan(5);
    expect(all(parse(markup), 'text').filter((text) => /% \(/.test(textOf(text)))).toHaveLength(
      Number(shown),
    );
  });
});

describe('words beside one another', () => {
  it.each(['wide', 'upright'])('do not touch, %s', async (name) => {
    const markup = await pictureMarkup(sample(crowded), words, {
      theme: 'light',
      shape: pictureShapes.get(name),
    });
    const boxes = eachText(parse(markup)).map((text) => ({ text, box: inkOf(text) }));
    for (const [index, a] of boxes.entries()) {
      for (const b of boxes.slice(index + 1)) {
        const wide = Math.min(a.box.x + a.box.width, b.box.x + b.box.width) - Math.max(a.box.x, b.box.x);
        const high = Math.min(a.box.y + a.box.height, b.box.y + b.box.height) - Math.max(a.box.y, b.box.y);
        expect(wide > 0.5 && high > 0.5, `${a.text} over ${b.text}`).toBe(false);
      }
    }
  });
});

/** Each text by itself, within the groups that place it. */
function eachText(root: Element): string[] {
  const svg = only(root, 'svg');
  const open = (element: Element) =>
    `<${element.name}${Object.entries(element.attributes)
      .map(([name, value]) => ` ${name}="${value.replaceAll('&', '&amp;').replaceAll('"', '&quot;')}"`)
      .join('')}>`;
  const found: string[] = [];
  const walk = (element: Element, before: string, after: string) => {
    for (const child of element.children) {
      if (typeof child === 'string') continue;
      if (child.name === 'text') {
        const letters = textOf(child).replaceAll('&', '&amp;').replaceAll('<', '&lt;');
        found.push(`${before}${open(child)}${letters}</text>${after}`);
      } else {
        walk(child, `${before}${open(child)}`, `</${child.name}>${after}`);
      }
    }
  };
  walk(svg, open(svg), '</svg>');
  return found;
}

describe('a PNG', () => {
  it.each([
    ['wide', 1920, 1080],
    ['upright', 1080, 1350],
    ['share', 1200, 630],
  ] as const)('%s is of its size, on its paper, with ink', async (name, width, height) => {
    const shape = pictureShapes.get(name);
    const paper = { light: [0xf9, 0xfa, 0xf6], dark: [0x13, 0x18, 0x1b] } as const;
    for (const theme of ['light', 'dark'] as const) {
      const markup = await pictureMarkup(sample(drawings.waterfall), words, { theme, shape });
      const { data, info } = await sharp(await pngFile(markup))
        .removeAlpha()
        .raw()
        .toBuffer({ resolveWithObject: true });
      expect([info.width, info.height]).toEqual([width, height]);
      expect([...data.subarray(0, 3)]).toEqual(paper[theme]);
    }
  });

  it('has glyphs of the shipped faces: ink where only words are', async () => {
    const shape = pictureShapes.get('wide');
    const markup = wordsAlone(
      await pictureMarkup(sample(drawings.waterfall), words, { theme: 'light', shape }),
    );
    const inked = async (svg: string) => {
      const { data } = await sharp(await pngFile(svg))
        .raw()
        .toBuffer({ resolveWithObject: true });
      let pixels = 0;
      for (let at = 3; at < data.length; at += 4) if ((data[at] ?? 0) > 127) pixels += 1;
      return pixels;
    };
    const letters = all(parse(markup), 'text').map(textOf).join('').replaceAll(' ', '').length;
    // At over 30 px to the em a letter has some 100 px of ink; a missing face leaves none.
    expect(await inked(markup)).toBeGreaterThan(40 * letters);
    expect(await inked(markup.replace(/<text.*?<\/text>/g, ''))).toBe(0);
  });

  it('is set in Source Sans 3, by its widths', () => {
    // Measured with canvas measureText in Chromium, the shipped face at weight 400: 0.506 em a letter.
    const said = 'Consumption, Wh/km';
    const ink = inkOf(
      `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="60" viewBox="0 0 400 60"><text x="20" y="30" font-size="20" font-family="'Source Sans 3'">${said}</text></svg>`,
    );
    // Ink lacks the bearings at both ends, under two tenths of an em together.
    expect(ink.width / 20 / said.length).toBeGreaterThan(0.506 - 0.2 / said.length);
    expect(ink.width / 20 / said.length).toBeLessThan(0.508);
  });
});

describe('a card', () => {
  it.each([...pageWords])('of %s clips no word and says its page', async (_, page) => {
    const shape = pictureShapes.get('share');
    if (shape === undefined) throw new Error('no such shape');
    const markup = await markupOf(
      <CardPicture {...page} address={`evenloop.example${page.path}`} shape={shape} />,
      'light',
    );
    const ink = inkOf(markup);
    expect(ink.x).toBeGreaterThanOrEqual(0);
    expect(ink.x + ink.width).toBeLessThanOrEqual(640);
    expect(ink.y + ink.height).toBeLessThanOrEqual(336);
    const said = all(parse(markup), 'text').map(textOf);
    expect(said.join(' ')).toContain(page.description);
    // Its description ends above the line with the address.
    const feet = all(parse(markup), 'text').map(({ attributes }) => Number(attributes.y));
    expect(feet.at(-2)).toBeLessThan((feet.at(-1) ?? 0) - 20);
  });
});

describe('an SVG file', () => {
  it('opens in an XML parser, needs nothing around it, and is the same on every call', async () => {
    const make = async () =>
      svgFile(await pictureMarkup(sample(drawings.scatter), words, { theme: 'light' }));
    const file = await make();
    const svg = only(parse(file), 'svg');
    expect(svg.attributes.xmlns).toBe('http://www.w3.org/2000/svg');
    expect(file.match(/var\(--|data-row|<script| class="/g)).toBeNull();
    expect(textOf(only(svg, 'style'))).toMatch(/^@font-face\{font-family:'Source Sans 3'.*base64/);
    expect(await make()).toBe(file);
  });

  it('keeps words that hold marks of XML as words', async () => {
    const figure = { ...sample(drawings.pairs), title: 'Tyres <18"> & ‘so on’ at 5 %' };
    const markup = await pictureMarkup(figure, words, { theme: 'light' });
    expect(textOf(only(parse(markup), 'title'))).toBe(figure.title);
  });
});
