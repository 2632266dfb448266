import { expect, type Page, test } from '@playwright/test';
import { browserAddress } from '../helpers/browserWorld';
import { axeViolations } from './axe';
import { firstLink } from './links';
import { REVIEWER, STEWARD, signInAs, TESTER } from './people';

const OWN_ORIGIN = new URL(browserAddress).origin;

const PUBLIC = [
  '/',
  '/rankings',
  '/rankings?class=kmh-90&show=raw&unit=mi%2FkWh',
  '/compare',
  '/estimate',
  '/factors',
  '/factors/driveMode',
  '/factors/cruiseSpeed',
  '/models',
  '/loops',
  '/runs',
  '/protocol',
  '/method',
  '/safety',
  '/display',
  '/sign-in',
  '/sign-up',
];

// None changes anything: both workers share them, whichever is free.
test.describe.configure({ mode: 'parallel' });

/** The rules that hang on colours: of a page seen whole in one theme, the other can break no more than these. */
const OF_COLOURS = ['color-contrast', 'link-in-text-block'];
/** The rules that hang on how wide the window is; all others see the same page on a phone. */
const OF_WIDTH = [
  'target-size',
  'scrollable-region-focusable',
  'aria-hidden-focus',
  'label',
  'link-name',
  'button-name',
];
const OF_WCAG = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'];

const overflow = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

/** The narrowest window with the spacing of letters, words, lines and paragraphs that WCAG 2.2, 1.4.12 names. */
async function overflowSpaced(page: Page): Promise<number> {
  await page.setViewportSize({ width: 320, height: 800 });
  const spacing = await page.addStyleTag({
    content:
      '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }',
  });
  const found = await overflow(page);
  await spacing.evaluate((tag) => tag.parentNode?.removeChild(tag));
  return found;
}

/**
 * Rows of one table, items of one list and marks of one drawing are made by the same lines: of each kind the first six are
 * looked at. On a long page that is most of what axe would do.
 */
const leaveFirstOfEachKind = (page: Page) =>
  page.evaluate(() => {
    const repeated = 'tr, li, option, svg g, svg path, svg line, svg circle, svg rect, svg text';
    const seen = new Map<Element, Map<string, number>>();
    for (const each of document.querySelectorAll(repeated)) {
      const parent = each.parentElement;
      if (!parent || each.closest('nav')) continue;
      const kinds = seen.get(parent) ?? new Map<string, number>();
      seen.set(parent, kinds);
      const kind = `${each.tagName} ${each.getAttribute('class') ?? ''}`;
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      if ((kinds.get(kind) ?? 0) > 6) each.remove();
    }
  });

const DESKTOP = { width: 1280, height: 800 };
const PHONE = { width: 390, height: 844 };
/** What a sheet of A4 leaves between margins of 10 mm. */
const SHEET = { width: 718, height: 1000 };

/**
 * Of one page as it was sent: that it fits a desktop, a phone and a sheet of paper; as wide as on a desktop all rules in
 * the light and those of colours in the dark; then as narrow as on a phone those that hang on the width, in the dark.
 */
async function check(page: Page, path: string): Promise<void> {
  await page.setViewportSize(DESKTOP);
  const foreign: string[] = [];
  page.on('request', (request) => {
    if (!/^(data|blob):/.test(request.url()) && new URL(request.url()).origin !== OWN_ORIGIN)
      foreign.push(request.url());
  });
  const response = await page.goto(path);
  expect(response?.status(), path).toBe(200);
  await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
  await expect(page.locator('iframe, frame')).toHaveCount(0);
  expect(await overflow(page), `${path} scrolls sideways`).toBeLessThanOrEqual(0);
  await page.setViewportSize(PHONE);
  expect(await overflow(page), `${path} scrolls sideways on a phone`).toBeLessThanOrEqual(0);
  expect(
    await overflowSpaced(page),
    `${path} scrolls sideways at 320 px with wide spacing`,
  ).toBeLessThanOrEqual(0);
  await page.setViewportSize(SHEET);
  await page.emulateMedia({ media: 'print' });
  expect(await overflow(page), `${path} is cut off on a sheet of paper`).toBeLessThanOrEqual(0);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize(DESKTOP);
  // Parts that are not laid out yet have no place of their own: axe would see them lie over one another.
  await page.addStyleTag({ content: '.laid-out-late { content-visibility: visible !important }' });
  await leaveFirstOfEachKind(page);
  await page.emulateMedia({ colorScheme: 'light' });
  const all = await axeViolations(page, { runOnly: OF_WCAG });
  expect(all, path).toEqual([]);
  // What a policy forbids a browser asks for nobody: here is what the page asked for by itself.
  expect(foreign, `${path} asks others`).toEqual([]);
  await page.emulateMedia({ colorScheme: 'dark' });
  const ofColours = await axeViolations(page, { runOnly: { type: 'rule', values: OF_COLOURS } });
  expect(ofColours, `${path} in the dark`).toEqual([]);
  await page.setViewportSize(PHONE);
  const ofWidth = await axeViolations(page, { runOnly: { type: 'rule', values: OF_WIDTH } });
  expect(ofWidth, `${path} on a phone`).toEqual([]);
}

for (const path of PUBLIC) {
  test(`${path} is accessible and fits`, async ({ page }) => check(page, path));
}

test('three steps by keyboard lead from the home page to an answer, also on the narrowest screen', async ({
  page,
}) => {
  await page.setViewportSize({ width: 320, height: 640 });
  for (const path of ['/rankings', '/']) {
    await page.goto(path);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(overflow, `${path} scrolls sideways`).toBeLessThanOrEqual(0);
  }
  // past the header, to the first action, into it
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await expect(page.getByRole('link', { name: 'See what a change does' })).toBeFocused();
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.pathname !== '/');
  await expect(page.locator('main a[href="/method#evidence"]').first()).toBeVisible();
});

test('a run, a setup with its estimate, a model and a loop are accessible and fit', async ({ page }) => {
  test.setTimeout(120_000);
  const run = await firstLink(page, '/runs', /^\/runs\/\d+$/);
  await check(page, run);
  // how the number came about comes before what was read, and both before what a sceptic asks
  const parts = await page.locator('main section[id]').evaluateAll((all) => all.map(({ id }) => id));
  expect(parts.slice(0, 2)).toEqual(['adjustment', 'readings']);
  const contents = page.getByRole('navigation', { name: 'On this page' });
  for (const size of [DESKTOP, PHONE]) {
    await page.goto('about:blank');
    await page.setViewportSize(size);
    await page.goto(run);
    if (size === PHONE) await contents.getByText('On this page').click();
    await contents.getByRole('link', { name: 'Review trail' }).click();
    await expect(page.locator('#trail h2')).toBeInViewport();
  }
  await check(page, await firstLink(page, '/rankings', /^\/setups\//));
  await check(page, await firstLink(page, new URL(page.url()).pathname, /^\/estimate\?/));
  await check(page, await firstLink(page, '/models', /^\/models\//));
  await check(page, await firstLink(page, '/loops', /^\/loops\//));
});

test('the tester’s pages are accessible and fit', async ({ page }) => {
  test.setTimeout(120_000);
  await signInAs(page, TESTER);
  for (const path of [
    '/my',
    '/my/cars',
    '/my/models/new',
    '/my/loops/new',
    '/record',
    '/import',
    '/notifications',
    '/account',
  ]) {
    await check(page, path);
  }
  await page.goto('/record');
  await page.getByRole('button', { name: 'Start a new run' }).click();
  await page.waitForURL(/\/record\/[0-9a-f-]{36}$/);
  await check(page, new URL(page.url()).pathname);
});

test('the reviewer’s and the steward’s pages are accessible and fit', async ({ page, browser }) => {
  test.setTimeout(120_000);
  await signInAs(page, REVIEWER, '/queue');
  await check(page, '/queue');
  await check(page, await firstLink(page, '/queue', /^\/review\/\d+$/));
  const context = await browser.newContext();
  const steward = await context.newPage();
  await signInAs(steward, STEWARD, '/people');
  await check(steward, '/people');
  await check(steward, '/method-versions');
  await check(steward, '/protocol-versions');
  await check(steward, '/shared-levels?factor=rideHeight');
  await check(steward, '/audit');
  await check(steward, `${await firstLink(steward, '/models', /^\/models\//)}/charging`);
  await context.close();
});
