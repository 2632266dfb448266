import { expect, type Locator, test } from '@playwright/test';
import { SaxesParser } from 'saxes';
import sharp from 'sharp';

/** Middles of a figure's lines marked by an attribute, by the value that they stand for. */
async function placesOf(figure: Locator, attribute: string): Promise<Map<string, number[]>> {
  const found = await figure.locator(`line[${attribute}]`).evaluateAll((lines, name) => {
    return lines.map((line) => {
      const { left, width } = line.getBoundingClientRect();
      return { value: line.getAttribute(name) ?? '', middle: left + width / 2 };
    });
  }, attribute);
  const places = new Map<string, number[]>();
  for (const { value, middle } of found) places.set(value, [...(places.get(value) ?? []), middle]);
  return places;
}

test('the ranking’s axis and the gridlines of its rows stand on one scale at every width', async ({
  page,
}) => {
  await page.goto('/rankings');
  const ranked = page.locator('#ranked figure');
  expect(await ranked.count()).toBeGreaterThan(2);
  for (const width of [320, 768, 1280, 1920]) {
    await page.setViewportSize({ width, height: 900 });
    for (const figure of await ranked.all()) {
      const ticks = await placesOf(figure, 'data-tick');
      const gridlines = await placesOf(figure, 'data-gridline');
      expect(ticks.size).toBeGreaterThan(2);
      expect([...gridlines.keys()]).toEqual([...ticks.keys()]);
      for (const [value, [tick = Number.NaN]] of ticks) {
        for (const gridline of gridlines.get(value) ?? []) {
          // Half a pixel: what rounding to device pixels may move a line.
          expect(Math.abs(gridline - tick), `${value} at ${width} px`).toBeLessThan(0.5);
        }
      }
    }
  }
});

test('rows of a ranking are no higher than 44 px on a desktop, under an axis that stays in view', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1280, height: 300 });
  await page.goto('/rankings');
  const rows = page.locator('#ranked figure li[data-row]');
  const heights = await rows.evaluateAll((all) => all.map((row) => row.getBoundingClientRect().height));
  expect(heights.length).toBeGreaterThan(8);
  expect(Math.max(...heights)).toBeLessThanOrEqual(44);
  const figure = page.locator('#ranked figure').first();
  await figure
    .locator('li[data-row]')
    .last()
    .evaluate((row) => row.scrollIntoView({ block: 'end' }));
  await expect(figure.locator('line[data-tick]').first()).toBeInViewport();
});

test('a figure is read out by keyboard and by hover as its table says', async ({ page }) => {
  await page.goto('/rankings');
  const figure = page.locator('figure').first();
  const readOut = figure.locator('output');
  const rows = await figure
    .locator('details tbody tr')
    .evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent ?? '')));
  await figure.getByRole('group', { name: 'Arrow keys' }).focus();
  await page.keyboard.press('ArrowDown');
  await expect(readOut).toContainText(rows[0]?.[0] ?? 'no row');
  await expect(readOut).toContainText(rows[0]?.[2] ?? 'no number');
  await page.keyboard.press('ArrowDown');
  await expect(readOut).toContainText(rows[1]?.[0] ?? 'no row');
  await page.keyboard.press('Escape');
  await expect(readOut).toBeEmpty();
  await figure
    .locator('ol > li')
    .nth(2)
    .click({ position: { x: 4, y: 4 } });
  await expect(readOut).toContainText(rows[2]?.[0] ?? 'no row');
});

test('every figure’s files are what they say, and may be kept', async ({ page, request }) => {
  test.setTimeout(120_000);
  await page.goto('/rankings');
  const hrefs = await page
    .locator('figure')
    .first()
    .locator('a[href^="/figures/"]')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? ''));
  expect(hrefs).toHaveLength(7);
  for (const href of hrefs) {
    const answer = await request.get(href);
    expect(answer.status(), href).toBe(200);
    const { etag = '', 'cache-control': kept, 'content-type': type = '' } = answer.headers();
    // As the page links to it: of this version, which never changes.
    expect(kept, href).toContain('immutable');
    expect((await request.get(href, { headers: { 'If-None-Match': etag } })).status()).toBe(304);
    if (type === 'image/png') {
      const { width, height } = await sharp(await answer.body()).metadata();
      expect([width, height]).toEqual(href.includes('upright') ? [1080, 1350] : [1920, 1080]);
    } else if (type === 'image/svg+xml') {
      new SaxesParser({ xmlns: true }).write(await answer.text()).close();
    } else {
      expect(type).toContain('text/csv');
      // Row for row what the page's table says, as plain numbers.
      const rows = (await answer.text()).trimEnd().split('\r\n').slice(1);
      const shown = await page.locator('figure').first().locator('details tbody tr').allTextContents();
      expect(rows).toHaveLength(shown.length);
      for (const [index, row] of rows.entries()) {
        const numbers = row.match(/(?<=,)\d+(\.\d+)?(?=,|$)/g) ?? [];
        expect(numbers.length, row).toBeGreaterThan(1);
        for (const number of numbers) expect(shown[index]).toContain(number);
      }
    }
  }
});

test('an address that was quoted before a refit opens the figure as it stands now, and is asked anew', async ({
  request,
}) => {
  const now = await request.get('/figures/ranking/kmh-110.svg');
  const quoted = await request.get('/figures/ranking/kmh-110.svg?v=of-an-earlier-fit');
  expect(quoted.status()).toBe(200);
  expect(quoted.headers()['cache-control']).toContain('max-age=300');
  expect(await quoted.text()).toBe(await now.text());
});

test('the picture of a shared link is there for every public page', async ({ page, request }) => {
  for (const path of [
    '/',
    '/rankings',
    '/factors',
    '/compare',
    '/estimate',
    '/models',
    '/loops',
    '/runs',
    '/protocol',
    '/method',
  ]) {
    await page.goto(path);
    const image = await page.locator('meta[property="og:image"]').getAttribute('content');
    const { pathname, search } = new URL(image ?? '', 'http://nowhere');
    const answer = await request.get(`${pathname}${search}`);
    expect(answer.headers()['content-type'], path).toBe('image/png');
    const { width, height } = await sharp(await answer.body()).metadata();
    expect([width, height]).toEqual([1200, 630]);
  }
});

test('an address of no figure is answered as such', async ({ request }) => {
  for (const path of [
    '/figures/ranking/kmh-110.gif',
    '/figures/ranking/kmh-110.png?shape=huge',
    '/figures/ranking/kmh-110.svg?theme=pink',
    '/figures/ranking/no-class.svg',
    '/figures/__proto__/kmh-110.svg',
    '/figures/adjustment/0.svg',
    '/figures/adjustment/99999999.svg',
    '/figures/setup-runs/..%2F..%2Fetc.svg',
    '/figures/route/%00.svg',
    `/figures/ranking/kmh-110.svg?unit=${'x'.repeat(300)}`,
    '/figures/ranking/kmh-110.svg?model=%00',
  ]) {
    const answer = await request.get(path);
    expect([400, 404], path).toContain(answer.status());
  }
});
