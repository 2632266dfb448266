import { expect, test } from '@playwright/test';
import { registrySteward } from '../helpers/browserWorld';
import { fill, optionWith, photo } from './fillRun';
import { goodRun } from './goodRun';
import { signInAs, TESTER } from './people';

/** The registry was filled under version 1.0, as a release before this one stored it. */
test('a steward publishes version 3.3: new runs are judged by it, old ones stay as they are', async ({
  page,
  browser,
}) => {
  test.setTimeout(180_000);

  // An old run, judged by version 1.0, which has no rule on gusts.
  await page.goto('/runs');
  const oldRun = await page.locator('a[href^="/runs/"]').first().getAttribute('href');
  await page.goto(oldRun ?? '');
  await expect(page.getByText('under protocol 1.0').first()).toBeVisible();
  await page.goto('/protocol');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Protocol 1.0');
  await expect(page.locator('#gusts')).toHaveCount(0);

  // The steward reads what would change, and is asked for their word.
  await signInAs(page, registrySteward.email, '/protocol-versions');
  await expect(page.getByText('Version 1.0 is in force since 1 Oct 2026')).toBeVisible();
  await expect(page.getByText(/Gusts over the mean wind ≤ 5.m\/s pass, otherwise caution/)).toBeVisible();
  await expect(page.getByText('All other limits stay as they were.')).toBeVisible();
  const publish = page.getByRole('button', { name: 'Put version 3.3 in force' });
  await publish.click();
  const confirm = page.getByRole('checkbox');
  expect(await confirm.evaluate((box: HTMLInputElement) => box.validity.valueMissing)).toBe(true);
  await confirm.check();
  await publish.click();
  await expect(page.getByText('Version 3.3 is in force. Runs sent in from now on')).toBeVisible();
  await expect(page.getByText('There is no newer version to publish')).toBeVisible();

  // Everyone reads both versions, with what changed.
  await page.goto('/protocol');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Protocol 3.3');
  await expect(page.locator('#gusts')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Version 1.0' })).toBeVisible();
  await expect(page.getByText('What changed since 1.0')).toBeVisible();

  // A tester's new run, with gusts far over the mean wind.
  const context = await browser.newContext();
  const tester = await context.newPage();
  const run = goodRun('2026-11-07T10:20');
  await signInAs(tester, TESTER, '/record');
  await tester.getByRole('button', { name: 'Start a new run' }).click();
  await tester.waitForURL(/\/record\/[0-9a-f-]{36}$/);
  for (const [name, label] of [
    ['carId', run.carName],
    ['setupId', 'As delivered'],
    ['loopId', run.loopName],
  ] as const) {
    await tester.locator(`[name="${name}"]`).selectOption({ label: await optionWith(tester, name, label) });
  }
  await fill(tester, {
    ...run.form,
    windSpeed: '3',
    windSpeedUnit: 'm/s',
    windGust: '9',
    windGustUnit: 'm/s',
  });
  for (const kind of ['startDisplay', 'finishDisplay']) {
    await tester.locator(`[name="evidence.${kind}"]`).setInputFiles(await photo());
    await expect(tester.getByText('Photo added.')).toBeVisible();
  }
  await expect(tester.locator('[data-draft-status="saved"]')).toBeVisible();
  await tester.getByRole('button', { name: /submit/i }).click();
  await tester.waitForURL(/\/runs\/\d+\?notice=sent$/);
  await expect(tester.getByText('under protocol 3.3').first()).toBeVisible();
  const gusts = tester.locator('#rule-gusts');
  await expect(gusts).toContainText('Steady wind');
  await expect(gusts).toContainText('Caution');
  await expect(gusts.getByRole('link')).toHaveAttribute('href', '/protocol/3.3#gusts');
  await context.close();

  // The old run is what it was, and so is the version that judged it.
  await page.goto(oldRun ?? '');
  await expect(page.getByText('under protocol 1.0').first()).toBeVisible();
  await expect(page.locator('#rule-gusts')).toHaveCount(0);
  await page.goto('/protocol/1.0');
  await expect(page.getByText('This version is retired.')).toBeVisible();
  await expect(page.locator('#gusts')).toHaveCount(0);
});
