import { type Browser, expect, test } from '@playwright/test';
import { fill, optionWith, photo } from './fillRun';
import { goodRun } from './goodRun';
import { tabTo } from './keyboard';
import { REVIEWER, SECOND_REVIEWER, signInAs, TESTER } from './people';

/** Phone and desktop drive on different days: otherwise the second would be a duplicate of the first. */
const dayOf = (projectName: string) => (projectName === 'phone' ? '2026-11-03T10:20' : '2026-11-05T10:20');

test('a run goes from the form through review into the ranking', async ({ page, browser }, info) => {
  test.setTimeout(180_000);
  const run = goodRun(dayOf(info.project.name));

  // The tester records it.
  await signInAs(page, TESTER, '/record');
  await page.getByRole('button', { name: 'Start a new run' }).click();
  await page.waitForURL(/\/record\/[0-9a-f-]{36}$/);
  await expect(page.getByText(/parked/i).first()).toBeVisible();
  await page.locator('[name="carId"]').selectOption({ label: await optionWith(page, 'carId', run.carName) });
  await page
    .locator('[name="setupId"]')
    .selectOption({ label: await optionWith(page, 'setupId', 'As delivered') });
  await page
    .locator('[name="loopId"]')
    .selectOption({ label: await optionWith(page, 'loopId', run.loopName) });
  await fill(page, run.form);

  // Nothing typed is lost on a reload.
  await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();
  await page.reload();
  await expect(page.locator('[name="tripDistance"]')).toHaveValue(run.form.tripDistance ?? '');

  // A reading that cannot be is refused beside its field, and nothing else is lost.
  await page.locator('[name="tripDistance"]').fill('0');
  await page.getByRole('button', { name: /submit/i }).click();
  await expect(page.locator('[name="tripDistance"]')).toHaveAttribute('aria-invalid', 'true');
  await expect(page.locator('[name="tripEnergy"]')).toHaveValue(run.form.tripEnergy ?? '');
  await page.locator('[name="tripDistance"]').fill(run.form.tripDistance ?? '');

  for (const kind of ['startDisplay', 'finishDisplay']) {
    await page.locator(`[name="evidence.${kind}"]`).setInputFiles(await photo());
    await expect(page.getByText('Photo added.')).toBeVisible();
  }
  await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();
  await page.getByRole('button', { name: /submit/i }).click();
  await page.waitForURL(/\/runs\/\d+\?notice=sent$/);
  await expect(page.getByRole('status').filter({ hasText: 'waits for review' })).toBeFocused();
  await expect(page.getByText('Submitted', { exact: true }).first()).toBeVisible();
  const path = new URL(page.url()).pathname;

  // Until it is approved, a reader does not see it.
  const readerContext = await browser.newContext();
  const reader = await readerContext.newPage();
  expect((await reader.goto(path))?.status()).toBe(404);

  // A reviewer claims it, reads it and approves.
  const reviewerContext = await browser.newContext();
  const reviewer = await reviewerContext.newPage();
  const number = path.split('/').at(-1);
  await signInAs(reviewer, REVIEWER, '/queue');
  // By keyboard alone, from the queue to the decision.
  await tabTo(reviewer, reviewer.locator(`a[href="/review/${number}"]`).first());
  await reviewer.keyboard.press('Enter');
  await reviewer.waitForURL(`**/review/${number}`);
  await tabTo(reviewer, reviewer.getByRole('button', { name: /claim/i }));
  await reviewer.keyboard.press('Enter');
  // What the photo shows is typed before what the tester typed is seen, and the two are compared.
  await tabTo(reviewer, reviewer.locator('[name="retyped-tripEnergy"]'));
  await reviewer.keyboard.type('1.1');
  await expect(reviewer.locator('#readings')).not.toContainText(`${run.form.tripEnergy} kWh`);
  await tabTo(reviewer, reviewer.getByLabel('Show me those that I leave empty'));
  await reviewer.keyboard.press('Space');
  await tabTo(reviewer, reviewer.getByRole('button', { name: 'Compare with the tester’s' }));
  await reviewer.keyboard.press('Enter');
  await expect(reviewer.getByRole('row', { name: /differs/ })).toContainText(`${run.form.tripEnergy} kWh`);
  // A letter chooses, Enter records.
  await tabTo(reviewer, reviewer.getByLabel('Single-letter keys on this page'));
  await reviewer.keyboard.press('Space');
  await reviewer.keyboard.press('a');
  await expect(reviewer.getByRole('radio', { name: /approve/i })).toBeFocused();
  await expect(reviewer.getByRole('radio', { name: /approve/i })).toBeInViewport();
  const needsSecond = await reviewer.getByText('An approval of this run needs a second one.').isVisible();
  await reviewer.keyboard.press('Enter');
  const said = needsSecond ? 'waits for a second one' : 'is approved';
  await expect(reviewer.getByRole('status').filter({ hasText: said })).toBeFocused();
  if (needsSecond) await approveSecond(browser, number ?? '');
  await expect.poll(async () => (await reader.goto(path))?.status(), { timeout: 20_000 }).toBe(200);

  // The tester hears of it, readers see it with its interval, and the ranking counts it.
  await page.goto('/notifications');
  await expect(page.getByText(`Run ${number} was approved`).first()).toBeVisible();
  await expect(reader.getByRole('heading', { level: 1 })).toContainText(String(number));
  await expect(reader.getByText(/95 %/).first()).toBeVisible();
  await reader.goto('/rankings?class=kmh-110');
  await expect(reader.getByRole('heading', { name: 'Ranked setups' })).toBeVisible();
  await readerContext.close();
  await reviewerContext.close();
});

/** Where the run weighs more than most, another reviewer has to approve it as well. */
async function approveSecond(browser: Browser, number: string): Promise<void> {
  const context = await browser.newContext();
  const page = await context.newPage();
  await signInAs(page, SECOND_REVIEWER, '/queue');
  await page.goto(`/review/${number}`);
  await page.getByRole('button', { name: /claim/i }).click();
  await page.getByRole('radio', { name: /approve/i }).check();
  await page.getByRole('button', { name: /decision/i }).click();
  await expect(page.getByRole('status').filter({ hasText: 'is approved' })).toBeFocused();
  await context.close();
}
