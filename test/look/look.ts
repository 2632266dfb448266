import { spawn } from 'node:child_process';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { type Browser, chromium, type Page } from '@playwright/test';
import { REVIEWER, STEWARD, signInAs, TESTER } from '../e2e/people';
import { browserAddress } from '../helpers/browserWorld';
import { chromiumPath } from '../helpers/chromium';
import { contactSheet, type Shot } from './contactSheet';
import { MODES, PLACES, type Visitor, WIDTHS } from './modes';

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

/** Who they are in the demo world. */
const EMAILS: Readonly<Record<Visitor, string>> = { tester: TESTER, reviewer: REVIEWER, steward: STEWARD };

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

/** A page of each visitor's own, signed in once. */
function visitors(browser: Browser, address: string): (who: Visitor | undefined) => Promise<Page> {
  const opened = new Map<Visitor | undefined, Promise<Page>>();
  const open = async (who: Visitor | undefined) => {
    const page = await browser.newPage({
      baseURL: address,
      locale: 'en-GB',
      timezoneId: 'UTC',
      bypassCSP: true,
    });
    if (who !== undefined) await signInAs(page, EMAILS[who], '/my');
    return page;
  };
  return (who) => {
    const page = opened.get(who) ?? open(who);
    opened.set(who, page);
    return page;
  };
}

async function lookAtAll(browser: Browser, address: string): Promise<Shot[]> {
  const shots: Shot[] = [];
  const pageOf = visitors(browser, address);
  for (const name of list(values.pages)) {
    const page = await pageOf(PLACES.get(name)?.as);
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
  let path = place?.path ?? place?.list;
  for (const link of place?.links ?? []) {
    if (path === undefined) return undefined;
    await page.goto(path);
    path = (await linksOf(page)).find((href) => link.test(href));
  }
  return path;
}

function linksOf(page: Page): Promise<string[]> {
  return page
    .locator('main a[href]')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href') ?? ''));
}

await main();
