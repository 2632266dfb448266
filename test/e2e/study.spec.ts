import { type Browser, expect, type Page, test } from '@playwright/test';
import pg from 'pg';
import { browserDataFolder } from '../helpers/browserWorld';
import { fill, optionWith, photo } from './fillRun';
import { goodRun } from './goodRun';
import { REVIEWER, SECOND_REVIEWER, signInAs, TESTER } from './people';

const [ASKS, BACKS] = ['celia@averil.example', 'bram@averil.example'];
/** At the loop, in minutes after UTC. */
const OFFSET_MIN = 60;
const IS_REQUEST = /^\/requests\/[0-9a-f-]{36}$/;
const DESKTOP = { width: 1280, height: 800 };

/** Somebody at a desk, beside the tester's phone. */
async function atDesk(browser: Browser, email: string, path: string): Promise<Page> {
  const page = await (await browser.newContext({ viewport: DESKTOP })).newPage();
  page.setDefaultTimeout(20_000);
  await signInAs(page, email, path);
  return page;
}

/** One run as the plan has it next: begun on the study's page, typed, proved by photos and sent. */
async function drive(page: Page, study: string, form: Record<string, string>): Promise<string> {
  await page.goto(study);
  await page.getByRole('button', { name: /^Begin run \d/ }).click();
  await page.waitForURL((url) => url.pathname.startsWith('/record/day/') && url.searchParams.has('run'));
  // The photos of a run are on its own page, as the whole of its form is.
  await page.goto(`/record/${new URL(page.url()).searchParams.get('run')}`);
  await fill(page, form);
  for (const kind of ['startDisplay', 'finishDisplay']) {
    await page.locator(`[name="evidence.${kind}"]`).setInputFiles(await photo());
    await expect(page.getByText('Photo added.')).toBeVisible();
  }
  await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();
  await page.getByRole('button', { name: /submit/i }).click();
  await page.waitForURL(/\/runs\/\d+\?notice=sent$/);
  return new URL(page.url()).pathname.split('/').at(-1) ?? '';
}

/** Claims and approves; says whether another has to approve as well. */
async function approve(page: Page, number: string): Promise<boolean> {
  await page.goto(`/review/${number}`);
  await page.getByRole('button', { name: /claim/i }).click();
  await page.getByRole('radio', { name: /approve/i }).check();
  await page.getByRole('button', { name: /decision/i }).click();
  const said = page.getByRole('status').filter({ hasText: /is approved|waits for a second one/ });
  await expect(said).toBeFocused();
  return (await said.textContent())?.includes('waits for a second one') ?? false;
}

/** A run that begins before its plan was fixed does not count for it, and no test can drive for an hour. */
async function beforeToday(slug: string): Promise<void> {
  const db = new pg.Client({ host: browserDataFolder, user: 'evenloop', database: 'evenloop' });
  await db.connect();
  await db.query(
    `with moved as (
       update "Study" set "createdAt" = now() - interval '36 hours', "beganAt" = now() - interval '36 hours'
       where slug = $1 returning id)
     update "StudyVersion" set "madeAt" = now() - interval '36 hours' from moved where "studyId" = moved.id`,
    [slug],
  );
  await db.end();
}

test('a reader’s question becomes a study, and its answer can be taken away', async ({
  page,
  browser,
}, info) => {
  test.setTimeout(240_000);
  page.setDefaultTimeout(20_000);
  const now = new Date(Date.now() + OFFSET_MIN * 60_000);
  // Tried again in the same world, it drives later on that day: else its runs would be duplicates.
  const attempt = info.repeatEachIndex + info.retry;
  const hour = String(2 * attempt).padStart(2, '0');
  test.skip(now.getUTCHours() <= 2 * attempt, 'two runs of a day cannot have been driven by now');
  const day = now.toISOString().slice(0, 10);
  const run = goodRun(`${day}T00:01`);

  // One asks, another backs it.
  const reader = await atDesk(browser, ASKS, '/requests/new');
  const model = await optionWith(reader, 'model', 'Godwit');
  await reader.locator('[name="model"]').selectOption({ label: model });
  await reader.locator('[name="class"]').selectOption('kmh-110');
  await reader.getByRole('button', { name: 'Go on' }).click();
  const pairs = reader.locator('[name="pair"] option');
  await expect(pairs.first()).toBeAttached();
  await reader.locator('[name="pair"]').selectOption({ index: (await pairs.count()) - 1 - attempt });
  await reader.locator('[name="question"]').fill('Is it worth the trouble at 110?');
  await reader.getByRole('button', { name: 'Ask for it' }).click();
  await reader.waitForURL((url) => url.searchParams.has('pair') || IS_REQUEST.test(url.pathname));
  if (!IS_REQUEST.test(new URL(reader.url()).pathname)) {
    // Something like it is asked for: one looks at that, and asks all the same.
    await reader.locator('[name="isOther"]').check();
    await reader.getByRole('button', { name: 'Ask for it' }).click();
    await reader.waitForURL((url) => IS_REQUEST.test(url.pathname));
  }
  const request = new URL(reader.url()).pathname;
  const backer = await atDesk(browser, BACKS, request);
  await backer.getByRole('button', { name: 'I want to know too' }).click();
  await expect(backer.getByText('2 votes')).toBeVisible();

  // A tester plans it from the phone, with what is known filled in, and fixes the plan.
  await signInAs(page, TESTER, request);
  await page.getByRole('link', { name: 'Plan a study of it' }).click();
  await page.locator('[name="car"]').selectOption({ label: await optionWith(page, 'car', run.carName) });
  await page.locator('[name="loop"]').selectOption({ label: await optionWith(page, 'loop', run.loopName) });
  await page.getByRole('button', { name: 'Go on' }).click();
  await expect(page.locator('[name="question"]')).toHaveValue('Is it worth the trouble at 110?');
  await expect(page.locator('[name="baselineId"]')).not.toHaveValue('');
  await expect(page.locator('input[name^="setup."]:checked')).toHaveCount(1);
  await page.locator('[name="runsADay"]').fill('2');
  await page.locator('[name="days"]').fill('1');
  await page.getByRole('button', { name: 'Make the draft' }).click();
  await page.waitForURL(/\/studies\/(?!new)[a-z0-9-]+$/);
  const study = new URL(page.url()).pathname;
  await page.getByRole('button', { name: 'Begin: fix the plan' }).click();
  await expect(page.locator('main').getByText('Running', { exact: true }).first()).toBeVisible();

  // The plan comes before the driving: here it is moved to the day before.
  await beforeToday(study.split('/').at(-1) ?? '');

  // While it runs, readers say what they expect.
  for (const [who, direction, size] of [
    [reader, 'less', '3'],
    [backer, 'more', '1'],
  ] as const) {
    await who.goto(study);
    await who.locator(`[name="direction"][value="${direction}"]`).check();
    await who.locator('[name="size"]').fill(size);
    await who.getByRole('button', { name: 'Guess' }).click();
    await expect(who.getByRole('button', { name: 'Change my guess' })).toBeVisible();
  }

  // Two runs, as the plan has them.
  const numbers: string[] = [];
  for (const [at, minute] of ['01', '52'].entries()) {
    const tripEnergy = (Number(run.form.tripEnergy) + 0.3 * at + 0.1 * (attempt - 1)).toFixed(1);
    const start = { startedAtLocal: `${day}T${hour}:${minute}`, utcOffsetMin: String(OFFSET_MIN) };
    const tripEfficiency = ((100 * Number(tripEnergy)) / Number(run.form.tripDistance)).toFixed(1);
    numbers.push(await drive(page, study, { ...run.form, ...start, tripEnergy, tripEfficiency }));
  }

  // At the charger: the tester sees at once what readers do not see before a review.
  await page.goto(`${study}/preview`);
  await expect(page.getByText(/repeat to/).first()).toBeVisible();
  await reader.goto(study);
  await expect(reader.locator('#looks')).toHaveCount(0);

  const reviewer = await atDesk(browser, REVIEWER, '/queue');
  const waiting: string[] = [];
  for (const number of numbers) if (await approve(reviewer, number)) waiting.push(number);
  if (waiting.length > 0) {
    const second = await atDesk(browser, SECOND_REVIEWER, '/queue');
    for (const number of waiting) await approve(second, number);
  }

  // All is driven: whoever asked is told, and sees the answer beside what was expected.
  await page.goto(study);
  await page.getByRole('button', { name: 'All is driven: complete it' }).click();
  await expect(page.locator('main').getByText('Complete', { exact: true }).first()).toBeVisible();
  await backer.goto('/notifications');
  await expect(backer.locator(`main a[href="${study}"]`).first()).toBeVisible();
  await reader.goto(study);
  await expect(reader.locator('#looks svg').first()).toBeVisible();
  await expect(reader.getByRole('heading', { name: 'What readers had expected' })).toBeVisible();
  for (const number of numbers)
    await expect(reader.locator(`a[href="/runs/${number}"]`).first()).toBeAttached();

  // The tester says where the runs begin, and takes everything for a video from one page, also on the phone.
  await page.goto(`${study}/publish`);
  for (const [at, number] of numbers.entries())
    await page.locator(`[name$="${number}"]`).fill(`${at + 1}:05`);
  await page.getByRole('button', { name: 'Keep the times' }).click();
  await expect(page.getByLabel(/^List for the video of/)).toHaveValue(/1:05[\s\S]*2:05/);
  const words = await page.getByRole('textbox', { name: 'Under a video' }).inputValue();
  expect(words.length).toBeLessThanOrEqual(900);
  expect(words).toContain(study);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
  const embed = await page.getByRole('link', { name: 'See it by itself' }).first().getAttribute('href');
  const files = await page
    .locator('#figures a[download]')
    .evaluateAll((all) => all.map((a) => a.getAttribute('href')));
  const shapes = new Map<string, number>();
  for (const href of [embed, ...files, `${study}/numbers.csv`]) {
    const answer = await page.request.get(href ?? '');
    expect(answer.ok(), href ?? '').toBe(true);
    const type = answer.headers()['content-type']?.split(';')[0] ?? '';
    shapes.set(type, (shapes.get(type) ?? 0) + 1);
    expect((await answer.body()).length, `${href} weighs something`).toBeGreaterThan(100);
  }
  // Wide and tall, light and dark; and the letters of each stay letters in the other.
  expect(shapes.get('image/png')).toBe(4);
  expect([...shapes.keys()].sort()).toEqual(['image/png', 'image/svg+xml', 'text/csv', 'text/html']);
  for (const who of [reader, backer, reviewer]) await who.context().close();
});
