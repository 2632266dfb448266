import { expect, type Page, test } from '@playwright/test';
import { DAY_NAMES } from '@/lib/run/sessionSheet';
import { fill, optionWith } from './fillRun';
import { goodRun } from './goodRun';
import { signInAs, TESTER } from './people';

/**
 * Seconds of a practised person by the keystroke-level model (Card, Moran & Newell 1980, Communications of the ACM 23
 * (7), 396; the operators from memory): each field is read off a display (M 1.35 s), reached by Tab and typed key by
 * key (K 0.28 s).
 */
const [READ_S, KEY_S] = [1.35, 0.28];

/** Counts what a person touches, and how long that takes. */
class Counted {
  fields = 0;
  keys = 0;
  readonly #since = Date.now();

  async type(page: Page, typed: Record<string, string>): Promise<void> {
    for (const text of Object.values(typed)) {
      this.fields += 1;
      this.keys += text.length + 1;
    }
    await fill(page, typed);
  }

  words(run: number): string {
    const byHand = this.fields * READ_S + this.keys * KEY_S;
    const script = (Date.now() - this.#since) / 1000;
    return `run ${run}: ${this.fields} fields, about ${byHand.toFixed(0)} s by hand, ${script.toFixed(1)} s by script`;
  }
}

test('runs two to four of a day take at most ten fields each, in the order A B B A', async ({ page }) => {
  test.setTimeout(150_000);
  const { carName, loopName, form } = goodRun('2026-05-20T08:00');
  await signInAs(page, TESTER, '/record');
  await page.getByLabel('Day at the loop').fill('2026-05-20');
  await page.getByRole('button', { name: 'Record this day’s runs' }).click();
  await page.waitForURL(/\/record\/day\/[0-9a-f-]{36}$/);

  const first = new Counted();
  const day = Object.fromEntries(
    DAY_NAMES.flatMap((name) => (form[name] && !name.endsWith('Id') ? [[`day.${name}`, form[name]]] : [])),
  );
  // What was the same on the last day is said already, and folded away.
  if (!(await page.locator('[name="day.carId"]').isVisible()))
    await page.getByText('The same all day', { exact: true }).click();
  await page
    .locator('[name="day.carId"]')
    .selectOption({ label: await optionWith(page, 'day.carId', carName) });
  await page
    .locator('[name="day.loopId"]')
    .selectOption({ label: await optionWith(page, 'day.loopId', loopName) });
  await first.type(page, day);
  const setups = await page
    .locator('[name="nextSetupId"] option')
    .evaluateAll((options) =>
      options.map((option) => option.getAttribute('value') ?? '').filter((value) => value !== ''),
    );
  const [a = '', b = ''] = setups;
  expect(b).not.toBe('');

  /** Begins the next run with the setup that is proposed, or with one that is chosen. */
  const begin = async (counted: Counted, setup?: string) => {
    if (setup !== undefined) await counted.type(page, { nextSetupId: setup });
    const proposed = await page.locator('[name="nextSetupId"]').inputValue();
    const before = page.url();
    await page.getByRole('button', { name: /^(Begin the first run|Same again with this setup)$/ }).click();
    await page.waitForURL((url) => url.href !== before && url.searchParams.has('run'));
    await expect(page.locator('#run')).toBeFocused();
    await expect(page.locator('[name="setupId"]')).toHaveValue(proposed);
    return proposed;
  };

  const readings = (startTime: string, energy: number) => ({
    startTime,
    chargeStart: form.chargeStart ?? '',
    trueSpeed: form.trueSpeed ?? '',
    tripDistance: form.tripDistance ?? '',
    tripEnergy: (Number(form.tripEnergy) + energy).toFixed(1),
    tripDuration: form.tripDuration ?? '',
    chargeEnd: form.chargeEnd ?? '',
    closeFollowing: form.closeFollowing ?? '',
  });

  await begin(first, a);
  await first.type(page, readings('08:00', 0));
  console.log(first.words(1));
  const order = [a];
  for (const [at, startTime] of ['09:30', '11:00', '12:30'].entries()) {
    const counted = new Counted();
    order.push(await begin(counted, at === 0 ? b : undefined));
    await counted.type(page, readings(startTime, 0.2 * (at + 1)));
    await expect(page.getByRole('row', { name: /Complete, not sent/ })).toHaveCount(at + 2);
    await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();
    console.log(counted.words(at + 2));
    expect(counted.fields).toBeLessThanOrEqual(10);
  }
  expect(order).toEqual([a, b, b, a]);

  // What was typed and not saved yet outlives the page.
  await page.locator('[name="tripMeanSpeed"]').fill('109');
  await page.reload();
  await expect(page.locator('[name="tripMeanSpeed"]')).toHaveValue('109');
  await page.locator('[name="tripMeanSpeed"]').fill('');
  await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();

  await page.getByRole('button', { name: 'Submit all complete runs for review' }).click();
  await expect(page.getByText('Sent for review.', { exact: false }).first()).toBeVisible();
  await expect(page.getByRole('row', { name: /Waiting for review/ })).toHaveCount(4);
});

test('two windows on one day are merged field by field, with scripts and without', async ({
  page,
  browser,
}) => {
  const { carName, form } = goodRun('2026-05-21T08:00');
  await signInAs(page, TESTER, '/record');
  await page.getByLabel('Day at the loop').fill('2026-05-21');
  await page.getByRole('button', { name: 'Record this day’s runs' }).click();
  await page.waitForURL(/\/record\/day\/[0-9a-f-]{36}$/);
  const shared = (at: Page) => at.getByText('The same all day', { exact: true });
  const openShared = async (at: Page) => {
    await expect(shared(at)).toBeVisible();
    if (!(await at.locator('[name="day.carId"]').isVisible())) await shared(at).click();
  };
  await openShared(page);
  const car = await optionWith(page, 'day.carId', carName);
  await page.locator('[name="day.carId"]').selectOption({ label: car });
  await page.getByRole('button', { name: 'Begin the first run' }).click();
  await page.waitForURL(/run=/);

  const storageState = await page.context().storageState();
  const windowOf = async (javaScriptEnabled: boolean) => {
    const context = await browser.newContext({ storageState, javaScriptEnabled });
    const other = await context.newPage();
    await other.goto(page.url());
    await openShared(other);
    return other;
  };
  const saved = (at: Page) => expect(at.locator('[data-draft-status="saved"]')).toBeVisible();
  const field = (at: Page, name: string) => at.locator(`[name="${name}"]`);
  await openShared(page);
  const [other, plain] = [await windowOf(true), await windowOf(false)];

  // Different fields, of the day and of the run: both stand in both, and nothing is asked.
  await field(page, 'day.airTemperature').fill('11.5');
  await field(page, 'chargeStart').fill(form.chargeStart ?? '');
  await saved(page);
  await field(other, 'day.windSpeed').fill('3.5');
  await expect(other.getByText('Taken over from elsewhere: air temperature, charge at start.')).toBeVisible();
  await expect(field(other, 'day.airTemperature')).toHaveValue('11.5');
  await expect(field(other, 'chargeStart')).toHaveValue(form.chargeStart ?? '');
  await saved(other);

  // The same field: asked, and only that.
  await field(page, 'day.windSpeed').fill('5.5');
  await field(page, 'day.windGust').fill('8.5');
  const asked = page.getByRole('alert').filter({ hasText: 'changed here and elsewhere' });
  await expect(asked.getByRole('group')).toHaveCount(1);
  await asked
    .getByRole('group', { name: /Mean wind/ })
    .getByRole('radio', { name: /^5.5/ })
    .check();
  await asked.getByRole('button', { name: 'Use what is chosen' }).click();
  await saved(page);
  await expect(field(page, 'day.windGust')).toHaveValue('8.5');

  // A window without scripts posts what it was made from along.
  await field(plain, 'day.relativeHumidity').fill('61');
  await field(plain, 'day.windSpeed').fill('6.5');
  await plain.getByRole('button', { name: 'Save now' }).click();
  const again = plain.getByRole('alert').filter({ hasText: 'changed here and elsewhere' }).first();
  await again.getByRole('radio', { name: /^6.5/ }).check();
  await plain.getByRole('button', { name: 'Use what is chosen' }).click();
  await expect(plain.getByText('The day is saved.')).toBeVisible();
  const all = { airTemperature: '11.5', windSpeed: '6.5', windGust: '8.5', relativeHumidity: '61' };
  await page.reload();
  await openShared(page);
  for (const [name, value] of Object.entries(all))
    await expect(field(page, `day.${name}`)).toHaveValue(value);
  await expect(field(page, 'chargeStart')).toHaveValue(form.chargeStart ?? '');
  for (const window of [other, plain]) await window.context().close();
});
