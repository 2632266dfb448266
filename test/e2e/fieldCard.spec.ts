import { expect, type Page, test } from '@playwright/test';
import sharp from 'sharp';
import { quantityField, type RunQuantity } from '@/lib/run/fields/table';
import { axeViolations } from './axe';
import { type GoodRun, goodRun } from './goodRun';
import { REVIEWER, signInAs, TESTER } from './people';

// A phone in a hand: the card is made for nothing else.
test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

async function openCard(page: Page): Promise<void> {
  await signInAs(page, TESTER, '/field');
  await expect(page.getByText('This page opens without a signal too.')).toBeVisible({ timeout: 30_000 });
}

/** Chooses by label in a set of radios or in a select, whichever the card shows. */
async function choose(page: Page, name: string, label: string | RegExp): Promise<void> {
  const set = page.getByRole('group', { name, exact: true });
  const select = page.getByRole('combobox', { name, exact: true });
  await expect(set.or(select)).toBeVisible();
  if (await select.isVisible()) {
    const option = select.locator('option').filter({ hasText: label }).first();
    await select.selectOption({ label: (await option.textContent()) ?? '' });
  } else {
    await set.getByRole('radio', { name: label }).first().check();
  }
}

async function fill(page: Page, run: GoodRun, ...quantities: RunQuantity[]): Promise<void> {
  for (const quantity of quantities) {
    const { label, units } = quantityField(quantity);
    const unit = run.form[`${quantity}Unit`];
    if (unit && units.length > 1) await page.getByLabel(`${label}, unit`, { exact: true }).selectOption(unit);
    await page.getByLabel(label, { exact: true }).fill(run.form[quantity] ?? '');
  }
}

async function begin(page: Page, run: GoodRun): Promise<void> {
  await page.getByRole('button', { name: 'New run' }).click();
  await choose(page, 'Car', new RegExp(run.carName));
  await choose(page, 'Setup', /./);
  await choose(page, 'Loop', new RegExp(run.loopName));
  await choose(page, 'True speed to hold', '110 km/h');
}

/** Opens what a step asks for only from those who know it. */
const more = (page: Page) => page.getByText(/more, if you know/).click();

/** The sizes that a keyboard leaves: each field of the step is taken up in turn, whole and clear of the bar. */
async function fieldsUnderTheBar(page: Page): Promise<string[]> {
  return page.getByRole('main').evaluate((main) => {
    const bar = main.querySelector('[data-foot-bar]')?.getBoundingClientRect();
    if (bar === undefined || bar.height !== 56) return [`a bar of ${bar?.height} px`];
    for (const fold of main.querySelectorAll('details')) fold.open = true;
    return [
      ...main.querySelectorAll<HTMLElement>('input:not([type=hidden]):not([type=file]), select'),
    ].flatMap((field) => {
      field.focus();
      const { top, bottom } = field.getBoundingClientRect();
      const foot = main.querySelector('[data-foot-bar]')?.getBoundingClientRect().top ?? 0;
      return top >= 0 && bottom <= foot ? [] : [`${field.id}: ${top} to ${bottom}, bar from ${foot}`];
    });
  });
}

const photo = (background: string) =>
  sharp({ create: { width: 3000, height: 2000, channels: 3, background } })
    .jpeg()
    .toBuffer();

const next = (page: Page) => page.getByRole('button', { name: 'Next', exact: true }).click();

/** The clock as shown, in seconds. */
async function clockSeconds(page: Page): Promise<number> {
  const text = await page.getByText(/^Time since the start: \d+:\d\d:\d\d$/).textContent();
  const [hours = 0, minutes = 0, seconds = 0] = (text ?? '').split(': ')[1]?.split(':').map(Number) ?? [];
  return hours * 3600 + minutes * 60 + seconds;
}

test('a run noted without a signal loses nothing and is sent once', async ({ page, context }) => {
  test.slow();
  const made: string[] = [];
  page.on('response', (response) => {
    const { pathname } = new URL(response.url());
    if (response.request().method() === 'POST' && response.status() === 201)
      made.push(pathname.replace(/[0-9a-f-]{36}/, 'id'));
  });
  const run = goodRun('');
  await openCard(page);
  await begin(page, run);
  await next(page);
  await fill(page, run, 'chargeStart');

  await context.setOffline(true);
  await expect(page.getByRole('status').filter({ hasText: /^Signed in as .+, offline\./ })).toBeVisible();
  await page
    .getByLabel('Photo: Display at start')
    .setInputFiles({ name: 'start.jpg', mimeType: 'image/jpeg', buffer: await photo('#345') });
  await expect(page.getByRole('img', { name: 'Display at start, photo 1' })).toBeVisible();
  await page.getByRole('button', { name: 'Start the run now' }).click();
  await expect(page.getByRole('heading', { name: 'Turn step 3 of 5' })).toBeFocused();
  await page.getByLabel('Distance at turnaround', { exact: true }).pressSequentially('53.2');
  await page.reload();

  await expect(page.getByLabel('Distance at turnaround', { exact: true })).toHaveValue('53.2');
  await expect(page.getByRole('status').filter({ hasText: /^Signed in as .+, offline\./ })).toBeVisible();
  // A shell of its own: neither header nor footer of the site, whose kept copy would be nobody's.
  await expect(page.getByRole('banner').or(page.getByRole('contentinfo'))).toHaveCount(0);
  const before = await clockSeconds(page);
  await expect.poll(() => clockSeconds(page)).toBeGreaterThan(before);
  await expect(page.getByText('Kept on this phone, not sent yet')).toBeVisible();
  await page.getByRole('button', { name: 'Back', exact: true }).click();
  await expect(page.getByLabel('Charge at start', { exact: true })).toHaveValue(run.form.chargeStart ?? '');
  await expect(page.getByRole('img', { name: 'Display at start, photo 1' })).toBeVisible();

  await next(page);
  await next(page);
  await more(page);
  await fill(
    page,
    run,
    'tripDistance',
    'tripEnergy',
    'tripEfficiency',
    'tripDuration',
    'chargeEnd',
    'trueSpeed',
  );
  await page
    .getByLabel('Photo: Display at finish')
    .setInputFiles({ name: 'finish.jpg', mimeType: 'image/jpeg', buffer: await photo('#543') });
  await expect(page.getByRole('img', { name: 'Display at finish, photo 1' })).toBeVisible();
  await page.getByRole('button', { name: 'Stop the clock' }).click();
  await page.reload();
  await expect(page.getByLabel('Charge at finish', { exact: true })).toHaveValue(run.form.chargeEnd ?? '');
  await expect(page.getByRole('img', { name: 'Display at finish, photo 1' })).toBeVisible();

  await context.setOffline(false);
  await expect(page.getByText(/^Sent as run \d+$/)).toBeVisible({ timeout: 30_000 });
  expect(made.filter((path) => path === '/api/field/runs')).toHaveLength(1);
  expect(made.filter((path) => path === '/api/runs/id/evidence')).toHaveLength(2);

  await next(page);
  await page.getByRole('link', { name: 'Complete and submit' }).click();
  await page.waitForURL(/\/record\//);
  await expect(page.getByRole('textbox', { name: 'Charge at start', exact: true })).toHaveValue(
    run.form.chargeStart ?? '',
  );
  await expect(page.getByLabel('Distance at turnaround', { exact: true })).toHaveValue('53.2');
  await expect(page.getByRole('list', { name: 'Photos: Display at start' }).getByRole('img')).toHaveCount(1);
  await expect(page.getByRole('list', { name: 'Photos: Display at finish' }).getByRole('img')).toHaveCount(1);
});

test('the digit that looks misread is named on the spot', async ({ page }) => {
  const run = goodRun('');
  await openCard(page);
  await begin(page, run);
  await page.getByRole('button', { name: '4 Finish' }).click();
  await more(page);
  await fill(page, run, 'tripDistance', 'tripEnergy', 'tripEfficiency');
  const energy = page.getByLabel('Energy used', { exact: true });
  const shown = run.form.tripEnergy ?? '';
  const slipped = shown.replace(/\d/, (digit) => (digit === '1' ? '7' : '1'));
  await energy.fill(slipped);
  await expect(page.getByText(/misread: .*energy/i).first()).toBeVisible();
  await energy.fill(shown);
  await expect(page.getByText('Nothing typed so far contradicts itself.')).toBeVisible();
});

/** Another browser of the same tester changes one field of the run. */
async function changeElsewhere(page: Page, runId: string, changes: Record<string, string>): Promise<void> {
  const status = await page.evaluate(
    async ([id, changed]) => {
      const held = await (await fetch(`/api/field/runs/${id}`)).json();
      const body = JSON.stringify({ draftVersion: held.draftVersion, form: { ...held.form, ...changed } });
      return (await fetch(`/api/runs/${id}/draft`, { method: 'PUT', body })).status;
    },
    [runId, changes] as const,
  );
  expect(status).toBe(200);
}

test('what was changed in two places comes together, and is asked where it was the same field', async ({
  page,
}) => {
  const run = goodRun('');
  const sent = () => expect(page.getByText(/^Sent as run \d+$/)).toBeVisible({ timeout: 20_000 });
  await openCard(page);
  await begin(page, run);
  await next(page);
  await fill(page, run, 'chargeStart');
  await page.getByRole('button', { name: '5 Plugged in' }).click();
  await sent();
  const address = await page.getByRole('link', { name: 'Complete and submit' }).getAttribute('href');
  const runId = address?.split('/').at(-1) ?? '';
  await page.getByRole('button', { name: '2 Start' }).click();
  await more(page);
  const charge = page.getByLabel('Charge at start', { exact: true });
  const odometer = page.getByLabel('Odometer at start', { exact: true });

  await changeElsewhere(page, runId, { chargeStart: '12' });
  await odometer.fill('12345');
  await expect(page.getByText('Taken over from elsewhere: charge at start.')).toBeVisible({
    timeout: 20_000,
  });
  await expect(charge).toHaveValue('12');
  await expect(odometer).toHaveValue('12345');
  await sent();

  await changeElsewhere(page, runId, { chargeStart: '13' });
  await charge.fill('14');
  const notice = page.getByRole('alert').filter({ hasText: 'changed here and elsewhere' });
  await expect(notice).toBeVisible({ timeout: 20_000 });
  const choice = notice.getByRole('group', { name: 'Charge at start' });
  const use = notice.getByRole('button', { name: 'Use what is chosen' });
  await use.press('Enter');
  await expect(choice).toBeFocused();
  await choice.getByRole('radio', { name: /^13/ }).check();
  await use.press('Enter');
  await expect(page.getByRole('heading', { name: 'Start step 2 of 5' })).toBeFocused();
  await expect(charge).toHaveValue('13');
  await sent();
});

/** What the server holds of a sheet and of runs, past a phone that may have no signal. */
async function heldBy(page: Page, address: string) {
  const answer = await page.request.get(address);
  expect(answer.status()).toBe(200);
  return answer.json();
}

test('a day says once what its runs share, without a signal too, and both runs have it', async ({
  page,
  context,
}) => {
  const run = goodRun('');
  const { origin } = new URL((await page.goto('/field'))?.url() ?? '');
  const sheets: string[] = [];
  page.on('response', async (response) => {
    if (response.request().method() === 'POST' && response.url().endsWith('/api/field/days'))
      sheets.push((await response.json()).sheetId);
  });
  await openCard(page);
  await page.getByRole('button', { name: 'New day of runs' }).click();
  const shared = page.getByText('The same all day', { exact: true });
  const air = page.getByLabel('Air temperature', { exact: true });
  const openShared = async () => {
    await expect(shared).toBeVisible();
    if (!(await air.isVisible())) await shared.click();
  };
  await openShared();
  await choose(page, 'Car', new RegExp(run.carName));
  await choose(page, 'Loop', new RegExp(run.loopName));
  await choose(page, 'True speed to hold', '110 km/h');
  await fill(page, run, 'airTemperature');
  await page.getByRole('button', { name: 'Begin the first run' }).click();
  await expect(page.getByRole('group', { name: 'Setup' })).toBeVisible();
  await expect(page.getByRole('group', { name: 'Car', exact: true })).toHaveCount(0);
  await next(page);
  await fill(page, run, 'chargeStart');
  await page.getByRole('button', { name: '5 Plugged in' }).click();
  await expect(page.getByText(/^Sent as run \d+$/)).toBeVisible({ timeout: 20_000 });
  const first = (await page.getByRole('link', { name: 'Complete and submit' }).getAttribute('href')) ?? '';

  await context.setOffline(true);
  await page.getByRole('button', { name: 'The day', exact: true }).click();
  await openShared();
  await air.fill('7.25');
  await page.reload();
  await openShared();
  await expect(air).toHaveValue('7.25');
  await page.getByRole('group', { name: 'Setup of the next run' }).getByRole('radio').nth(1).check();
  await page.getByRole('button', { name: 'Same again with this setup' }).click();
  await next(page);
  await page.getByLabel('Charge at start', { exact: true }).pressSequentially('71');
  await page.reload();
  await expect(page.getByLabel('Charge at start', { exact: true })).toHaveValue('71');
  // Meanwhile somewhere else, another field of the same day.
  const sheet = `/api/session-sheets/${sheets[0]}`;
  const { seen, day } = await heldBy(page, sheet);
  const saved = await page.request.put(sheet, {
    headers: { Origin: origin },
    data: { seen, day: { ...day, windSpeed: '4.5', windSpeedUnit: 'm/s' } },
  });
  expect(saved.status()).toBe(200);

  await context.setOffline(false);
  await page.getByRole('button', { name: '5 Plugged in' }).click();
  await expect(page.getByText(/^Sent as run \d+$/)).toBeVisible({ timeout: 30_000 });
  const second = (await page.getByRole('link', { name: 'Complete and submit' }).getAttribute('href')) ?? '';
  expect(second).not.toBe(first);
  const both = { airTemperature: '7.25', windSpeed: '4.5', cruiseClassKey: 'kmh-110' };
  expect((await heldBy(page, sheet)).day).toMatchObject(both);
  const draftOf = async (href: string) =>
    (await heldBy(page, `/api/field/runs/${href.split('/').at(-1)}`)).form;
  await expect.poll(() => draftOf(first)).toMatchObject({ ...both, chargeStart: run.form.chargeStart });
  expect(await draftOf(second)).toMatchObject({ ...both, chargeStart: '71' });
  expect((await draftOf(second)).setupId).not.toBe((await draftOf(first)).setupId);
  expect(sheets).toHaveLength(1);
  await page.getByRole('button', { name: 'The day', exact: true }).click();
  await expect(page.getByText('Taken over from elsewhere: mean wind at 10 m.')).toBeVisible();
  await expect(page.getByRole('listitem').filter({ hasText: 'Sent as run' })).toHaveCount(2);
});

test('accounts on one phone are apart, and the kept page is nobody’s', async ({ page }) => {
  await openCard(page);
  await page.getByRole('button', { name: 'New run' }).click();
  await page.getByRole('button', { name: 'All runs' }).first().click();
  await expect(page.getByText('No car chosen, not started')).toBeVisible();
  const kept = await page.evaluate(async () => {
    const paths: string[] = [];
    let html = '';
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      for (const { url } of await cache.keys()) paths.push(new URL(url).pathname);
      html += await (await cache.match('/field'))?.text();
    }
    return { paths, html };
  });
  expect(kept.paths).toContain('/field');
  expect(kept.paths.filter((path) => !/^\/(field$|_next\/static\/|icons\/|theme\.js$)/.test(path))).toEqual(
    [],
  );
  expect(kept.html).not.toMatch(/anouk/i);
  await page.getByRole('button', { name: 'Sign out', exact: true }).last().click();
  await page.waitForURL((url) => url.pathname === '/');
  await signInAs(page, REVIEWER, '/field');
  await expect(
    page.getByRole('button', { name: 'New run' }).or(page.getByText('You have no car yet.')),
  ).toBeVisible();
  await expect(page.getByText('No car chosen, not started')).toHaveCount(0);
});

test('can be put on the home screen, and every target takes a thumb', async ({ page, request }) => {
  const manifest = await (await request.get('/manifest.webmanifest')).json();
  expect(manifest).toMatchObject({ start_url: '/field', display: 'standalone' });
  for (const { src } of manifest.icons) expect((await request.get(src)).ok()).toBe(true);
  const run = goodRun('');
  await openCard(page);
  const caution = page.getByText('Posted limits and local law come first.', { exact: false });
  await expect(caution).toBeVisible();
  await page.getByRole('button', { name: 'Understood for today' }).click();
  await expect(caution).toBeHidden();
  await page.reload();
  await page.getByText('Parked or passenger only').click();
  await expect(caution).toBeVisible();
  await begin(page, run);
  for (const step of ['1 Before', '2 Start', '3 Turn', '4 Finish', '5 Plugged in']) {
    await page.getByRole('button', { name: step }).click();
    await expect(page.getByRole('button', { name: step })).toHaveAttribute('aria-current', 'step');
    // What is folded away has no place of its own until it is opened.
    await page.evaluate(() => {
      for (const folded of document.querySelectorAll('main details')) folded.toggleAttribute('open', true);
    });
    const small = await page
      .getByRole('main')
      .evaluate((main) =>
        [
          ...main.querySelectorAll(
            'button, select, input:not([type=radio]):not([type=hidden]), label[for$="-0"]',
          ),
        ]
          .filter((target) => target.getBoundingClientRect().height < 48)
          .map((target) => target.outerHTML.slice(0, 120)),
      );
    expect(small).toEqual([]);
    expect(await axeViolations(page, {}, 'main')).toEqual([]);
    await page.setViewportSize({ width: 390, height: 480 });
    expect(await fieldsUnderTheBar(page)).toEqual([]);
    await page.setViewportSize({ width: 390, height: 844 });
  }
});
