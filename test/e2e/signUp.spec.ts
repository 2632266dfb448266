import { expect, test } from '@playwright/test';

test('sign-up keeps what was typed after an error, and asks for no steward’s code where there is a steward', async ({
  page,
}) => {
  await page.goto('/sign-up');
  await page.getByLabel('Name shown beside your runs').fill('Ilse Varga');
  await page.getByLabel('E-mail').fill('ilse.varga@averil.example');
  await page.getByLabel('Password').fill('short');
  await expect(page.getByLabel('Steward code')).toHaveCount(0);
  await page.getByRole('button', { name: 'Open account' }).click();
  await expect(page.getByRole('alert', { name: 'One thing needs your' })).toContainText(
    'fewer than 10 characters',
  );
  await expect(page.getByLabel('Name shown beside your runs')).toHaveValue('Ilse Varga');
  await expect(page.getByLabel('E-mail')).toHaveValue('ilse.varga@averil.example');
});
