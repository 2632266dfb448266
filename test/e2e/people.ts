import type { Page } from '@playwright/test';
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
  await page
    .getByRole('form', { name: 'Sign in' })
    .getByRole('button', { name: 'Sign in', exact: true })
    .click();
  await page.waitForURL((url) => url.pathname === path);
}
