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
