import { expect, type Page, test } from '@playwright/test';

/** Middles of the lines marked by an attribute, by the value that they stand for. */
async function placesOf(page: Page, attribute: string): Promise<Map<string, number[]>> {
  const found = await page.locator(`line[${attribute}]`).evaluateAll((lines, name) => {
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
  for (const width of [320, 768, 1280, 1920]) {
    await page.setViewportSize({ width, height: 900 });
    const ticks = await placesOf(page, 'data-tick');
    const gridlines = await placesOf(page, 'data-gridline');
    expect(ticks.size).toBeGreaterThan(2);
    expect([...gridlines.keys()]).toEqual([...ticks.keys()]);
    for (const [value, [tick = Number.NaN]] of ticks) {
      for (const gridline of gridlines.get(value) ?? []) {
        // Half a pixel: what rounding to device pixels may move a line.
        expect(Math.abs(gridline - tick), `${value} at ${width} px`).toBeLessThan(0.5);
      }
    }
  }
});
