import { expect, type Page } from '@playwright/test';
import { demoPassword } from '../helpers/browserWorld';

export const TESTER = 'anouk@averil.example';
export const REVIEWER = 'mateo@averil.example';
export const SECOND_REVIEWER = 'nia@averil.example';
export const STEWARD = 'petra@averil.example';

/** Signs in through the page, as a person does, and ends on the asked-for page. */
export async function signInAs(page: Page, email: string, path = '/my'): Promise<void> {
  await page.goto(`/sign-in?callbackUrl=${encodeURIComponent(path)}`);
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password').fill(demoPassword);
  const button = page
    .getByRole('form', { name: 'Sign in' })
    .getByRole('button', { name: 'Sign in', exact: true });
  const isIn = (url: URL) => url.pathname === path;
  // Two tests that sign in as the same person within a second are told to wait that long, as anybody is.
  await expect(async () => {
    if (isIn(new URL(page.url()))) return;
    await button.click({ timeout: 5_000 });
    await page.waitForURL(isIn, { timeout: 10_000 });
  }).toPass({ timeout: 40_000, intervals: [1_500] });
}
