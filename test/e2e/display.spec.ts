import { readFile } from 'node:fs/promises';
import { expect, type Page, test } from '@playwright/test';
import { darkPalette } from '@/app/ui/palette';
import { firstLink } from './links';
import { signInAs, TESTER } from './people';

async function choose(page: Page, from: string): Promise<void> {
  await page.goto(from);
  await page.getByRole('contentinfo').getByRole('link', { name: 'Units and display' }).click();
  const form = page.getByRole('form', { name: 'Units and display' });
  await form.getByLabel('Consumption').selectOption({ label: 'mi/kWh' });
  await form.getByLabel('Distance and speed').selectOption({ label: 'mi, mph' });
  await form.getByLabel('Decimal comma').check();
  await form.getByLabel('Dark').check();
  await form.getByRole('button', { name: 'Keep these' }).click();
  await page.waitForURL((url) => url.pathname === new URL(from, url).pathname);
}

const main = (page: Page) => page.locator('main');
const theme = (page: Page) => page.evaluate(() => document.documentElement.dataset.theme);

/** The page's own numbers are in mi/kWh with a comma, and nowhere in the default unit. */
async function isAsChosen(page: Page): Promise<void> {
  await saysWhatWasChosen(page);
  await expect(main(page)).not.toContainText(/kWh\/100\s*km/);
}

/** A run's page quotes readings too, which stay in the units that they were read in. */
async function saysWhatWasChosen(page: Page): Promise<void> {
  expect(await theme(page)).toBe('dark');
  const text = (await main(page).textContent()) ?? '';
  expect(text).toContain('mi/kWh');
  expect(text).toMatch(/\d,\d/);
}

test('a visitor’s units, decimal mark and appearance are kept on every page', async ({ page }) => {
  await choose(page, '/rankings');
  await isAsChosen(page);
  await expect(main(page)).toContainText('Higher is better');
  await expect(main(page)).not.toContainText('Lower is better');
  // the browser's own bars and controls are dark as well
  await expect(page.locator('meta[name="color-scheme"]')).toHaveAttribute('content', 'dark');
  await expect(page.locator('meta[name="theme-color"]')).toHaveAttribute('content', darkPalette.paper);

  const setup = await firstLink(page, '/rankings', /^\/setups\//);
  await page.goto(setup);
  await isAsChosen(page);

  const compare = await firstLink(page, setup, /^\/compare\?.*setup=.*setup=/);
  await page.goto(compare);
  await isAsChosen(page);
  await expect(page.locator('#differences')).toContainText('distance per kWh');
  await expect(page.locator('#differences')).not.toContainText(/ uses /);

  const run = await firstLink(page, '/runs', /^\/runs\/\d+$/);
  await page.goto(run);
  await saysWhatWasChosen(page);
  // the citation says the number as the page does
  await expect(page.locator('#cite')).toContainText(/\d,\d+\s±\s0,\d+\smi\/kWh/);
  // what a program reads keeps its own units and the point of its format
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Input of the calculation (JSON)' }).click();
  const file = await (await download).path();
  expect(() => JSON.parse('1,5')).toThrow();
  expect(JSON.parse(await readFile(file, 'utf8'))).toHaveProperty('vehicle.massKg');
});

test('an address that says a unit wins on that page only', async ({ page }) => {
  await choose(page, '/runs');
  await page.goto('/rankings?unit=Wh%2Fkm');
  await expect(main(page)).toContainText('Consumption in Wh/km, as the address of this page asks');
  await expect(main(page)).toContainText('Lower is better');
  expect(await theme(page)).toBe('dark');
  await page.getByRole('link', { name: 'In my own unit' }).click();
  await page.waitForURL((url) => url.search === '');
  await isAsChosen(page);
  await page.goto('/runs');
  await isAsChosen(page);
});

test('choosing works without scripts', async ({ browser }) => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await choose(page, '/runs?state=approved');
  expect(new URL(page.url()).search).toBe('?state=approved');
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark');
  await expect(main(page)).toContainText('Consumption in mi/kWh');
  await context.close();
});

test('an account takes a visitor’s choice over and brings it to another browser', async ({
  page,
  browser,
}) => {
  await choose(page, '/rankings');
  await signInAs(page, TESTER);
  expect(await theme(page)).toBe('dark');
  const context = await browser.newContext();
  const other = await context.newPage();
  await signInAs(other, TESTER, '/rankings');
  await isAsChosen(other);
  await context.close();
});
