import { expect, test } from '@playwright/test';
import { browserAddress } from '../helpers/browserWorld';
import { signInAs, TESTER } from './people';

const OTHER_TESTER = 'bram@averil.example';
const NOWHERE = '018f0000-0000-7000-8000-00000000ffff';
const SAME_ORIGIN = { Origin: browserAddress };

test('endpoints refuse with the status that says why, and write nothing', async ({
  page,
  browser,
  request,
}) => {
  await signInAs(page, TESTER, '/record');
  await page.getByRole('button', { name: 'Start a new run' }).click();
  await page.waitForURL(/\/record\/[0-9a-f-]{36}$/);
  const runId = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  const draft = (id: string) => `/api/runs/${id}/draft`;
  const put = { headers: SAME_ORIGIN, data: { draftVersion: 1, form: { notes: 'kept' } } };

  expect((await request.put(draft(runId), put)).status(), 'nobody signed in').toBe(401);
  expect((await page.request.put(draft(NOWHERE), put)).status(), 'no such run').toBe(404);
  expect((await page.request.put(draft(runId), put)).status()).toBe(200);
  expect((await page.request.put(draft(runId), put)).status(), 'a stale revision').toBe(409);
  const foreign = { ...put, headers: { Origin: 'https://elsewhere.example' } };
  expect((await page.request.put(draft(runId), foreign)).status(), 'another site').toBe(403);
  const huge = { ...put, data: { draftVersion: 2, form: { notes: 'x'.repeat(5000) } } };
  expect((await page.request.put(draft(runId), huge)).status(), 'more than a field takes').toBe(422);

  const photo = (bytes: Buffer) => ({
    headers: SAME_ORIGIN,
    multipart: { 'evidence.finishDisplay': { name: 'photo.jpg', mimeType: 'image/jpeg', buffer: bytes } },
  });
  const evidence = `/api/runs/${runId}/evidence`;
  expect((await page.request.post(evidence, photo(Buffer.alloc(30 * 1024 * 1024)))).status()).toBe(413);
  expect([415, 422]).toContain(
    (await page.request.post(evidence, photo(Buffer.from('not a photo')))).status(),
  );

  const otherContext = await browser.newContext();
  const other = await otherContext.newPage();
  await signInAs(other, OTHER_TESTER);
  expect([403, 404]).toContain((await other.request.put(draft(runId), put)).status());
  expect((await other.goto(`/record/${runId}`))?.status()).toBe(404);
  await otherContext.close();
});

test('pages of a role are closed to those without it', async ({ page }) => {
  await page.goto('/my');
  await expect(page).toHaveURL(/\/sign-in\?callbackUrl=%2Fmy/);
  await signInAs(page, TESTER);
  for (const path of ['/people', '/audit', '/method-versions', '/protocol-versions', '/queue']) {
    const response = await page.goto(path);
    expect(response?.status(), path).toBe(403);
    await expect(page.getByText('This page belongs to another role.')).toBeVisible();
  }
});

test('a wrong password is refused without saying which part was wrong', async ({ page }) => {
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill('nobody@averil.example');
  await page.getByLabel('Password').fill('not this one at all');
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await expect(page.getByText('E-mail and password do not match.')).toBeVisible();
});
