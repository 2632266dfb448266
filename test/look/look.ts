import { spawn } from 'node:child_process';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { type Browser, chromium, type Page } from '@playwright/test';
import { browserAddress } from '../helpers/browserWorld';
import { chromiumPath } from '../helpers/chromium';
import { contactSheet, type Shot } from './contactSheet';
import { MODES, PLACES, WIDTHS } from './modes';

/**
 * `npm run look`: every page, and every figure on it as the files that it links to, at five widths in four modes, in
 * one folder with a contact sheet. It judges nothing: somebody looks. In part:
 * `npm run look -- --pages=run,setup --widths=320 --modes=dark,forced --address=http://127.0.0.1:3000`.
 */
const { values } = parseArgs({
  options: {
    pages: { type: 'string', default: [...PLACES.keys()].join(',') },
    widths: { type: 'string', default: WIDTHS.join(',') },
    modes: { type: 'string', default: [...MODES.keys()].join(',') },
    /** Of an app that runs already; otherwise the world of the browser tests is made and started. */
    address: { type: 'string' },
    /** Whole pages as well as each figure by itself. */
    files: { type: 'boolean', default: true },
  },
  allowNegative: true,
});

const folder = resolve(import.meta.dirname, '../.artifacts/look');
const list = (text: string) => text.split(',').filter(Boolean);

async function main(): Promise<void> {
  const server = values.address
    ? undefined
    : spawn(process.execPath, ['--import', 'tsx', 'test/helpers/serveBrowserWorld.ts'], { stdio: 'inherit' });
  const address = values.address ?? browserAddress;
  try {
    await answering(address);
    await rm(folder, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    const browser = await chromium.launch({
      executablePath: chromiumPath,
      args: ['--no-sandbox'],
    });
    const shots = await lookAtAll(browser, address);
    await browser.close();
    await writeFile(join(folder, 'index.html'), await contactSheet(folder, shots));
    console.log(`${shots.length} pictures in ${folder}; open index.html or sheet.png there.`);
  } finally {
    server?.kill('SIGTERM');
  }
}

async function answering(address: string): Promise<void> {
  const until = Date.now() + 900_000;
  while (Date.now() < until) {
    const answer = await fetch(`${address}/api/health/live`).catch(() => undefined);
    if (answer?.ok) return;
    await new Promise((go) => setTimeout(go, 1000));
  }
  throw new Error(`Nothing answers at ${address}.`);
}

async function lookAtAll(browser: Browser, address: string): Promise<Shot[]> {
  const shots: Shot[] = [];
  const page = await browser.newPage({
    baseURL: address,
    locale: 'en-GB',
    timezoneId: 'UTC',
    bypassCSP: true,
  });
  for (const name of list(values.pages)) {
    const path = await pathOf(page, name);
    if (path === undefined) {
      console.log(`${name}: no such page here.`);
      continue;
    }
    for (const mode of list(values.modes)) {
      await MODES.get(mode)?.(page);
      // opened once a mode: a page is laid out anew by its width alone
      await page.goto(path);
      // a picture of the whole page scrolls nowhere, so what is laid out late would stay blank
      await page.addStyleTag({ content: '.laid-out-late { content-visibility: visible !important }' });
      for (const width of list(values.widths).map(Number)) {
        await page.setViewportSize({ width, height: 900 });
        const file = `${name}-${mode}-${width}.png`;
        await page.screenshot({ path: join(folder, file), fullPage: true });
        shots.push({ name, of: `${mode}, ${width} px`, file });
      }
    }
    if (values.files) shots.push(...(await filesOf(page, name, path)));
    console.log(`${name} (${path})`);
  }
  return shots;
}

/** Every PNG that the page's figures link to. */
async function filesOf(page: Page, name: string, path: string): Promise<Shot[]> {
  await page.goto(path);
  const hrefs = await page
    .locator('figure a[href*=".png"]')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? ''));
  const shots: Shot[] = [];
  for (const [index, href] of [...new Set(hrefs)].entries()) {
    const answer = await page.request.get(href);
    const file = `${name}-file-${index}.png`;
    if (answer.ok()) await writeFile(join(folder, file), await answer.body());
    shots.push({ name, of: answer.ok() ? href : `${href} answered ${answer.status()}`, file });
  }
  return shots;
}

async function pathOf(page: Page, name: string): Promise<string | undefined> {
  const place = PLACES.get(name);
  if (place === undefined || typeof place === 'string') return place;
  await page.goto(place.list);
  const hrefs = await linksOf(page);
  const found = hrefs.find((href) => place.link.test(href));
  if (name !== 'compare' || found === undefined) return found;
  // A comparison is reached from a model: that has one of all its setups.
  await page.goto(found);
  return (await linksOf(page)).find((href) => href.startsWith('/compare?'));
}

function linksOf(page: Page): Promise<string[]> {
  return page
    .locator('main a[href]')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? ''));
}

await main();
