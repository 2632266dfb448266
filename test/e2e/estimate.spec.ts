import { expect, type Page, test } from '@playwright/test';

const sentence = (page: Page) => page.getByText(/ goes [\d.]+ km from \d+ to \d+\s% of charge at a steady/u);
const range = async (page: Page) =>
  Number(/goes ([\d.]+)/.exec((await sentence(page).first().textContent()) ?? '')?.[1] ?? Number.NaN);

/** From a setup's page to an answer, to another one, to a slip and to the edge of what can be answered. */
async function ask(page: Page): Promise<void> {
  await page.goto('/rankings');
  await page.locator('main a[href^="/setups/"]').first().click();
  await page.getByRole('link', { name: 'What would mine do?' }).click();
  await page.waitForURL(/\/estimate\?/);
  const mild = await range(page);
  expect(mild).toBeGreaterThan(20);

  await page.getByText('Change the trip').click();
  await page.getByLabel('Air temperature', { exact: true }).fill('-10');
  await page.getByLabel('Charge at arrival').fill('20');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.waitForURL(/air=-10/);
  // the address holds what was asked, and the fields show it
  await page.reload();
  await expect(page.getByLabel('Air temperature', { exact: true })).toHaveValue('-10');
  expect(await range(page)).toBeLessThan(0.9 * mild);

  await page.goto(page.url().replace('air=-10', 'air=warm'));
  await expect(page.getByRole('alert', { name: 'One entry needs a look' })).toContainText(
    '“warm” cannot be air temperature.',
  );
  await expect(page.getByLabel('Air temperature', { exact: true })).toHaveValue('warm');
  await expect(page.getByLabel('Charge at arrival')).toHaveValue('20');

  await page.goto(page.url().replace('air=warm', 'air=-40'));
  await expect(page.getByText('the method does not reach so far')).toBeVisible();
  await page.getByRole('link', { name: /an air temperature of .20/u }).click();
  await expect(sentence(page).first()).toBeVisible();
}

test('an estimate is asked for, changed and refused at the address', async ({ page }) => ask(page));

test('it is the same without scripts', async ({ browser }) => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  await ask(await context.newPage());
  await context.close();
});
