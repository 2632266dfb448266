import { expect, test } from '@playwright/test';
import { browserAddress } from '../helpers/browserWorld';

test('every page says what it may load and that nobody may frame it', async ({ request }) => {
  const { headers } = await request.get('/').then((response) => ({ headers: response.headers() }));
  expect(headers['content-security-policy']).toContain("default-src 'self'");
  expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
  expect(headers['content-security-policy']).not.toMatch(/https?:/);
  expect(headers['x-content-type-options']).toBe('nosniff');
  expect(headers['referrer-policy']).toBe('strict-origin-when-cross-origin');
  expect(headers['permissions-policy']).toContain('geolocation=()');
  expect(headers['x-powered-by']).toBeUndefined();
});

test('only what lies under /embed may stand in another page', async ({ request }) => {
  const { headers } = await request.get('/embed/none').then((response) => ({ headers: response.headers() }));
  expect(headers['content-security-policy']).toContain('frame-ancestors *');
  expect(headers['x-frame-options']).toBeUndefined();
});

test('the home page loads from its own address only and breaks no rule of its policy', async ({ page }) => {
  const foreign: string[] = [];
  const refused: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(browserAddress) && !request.url().startsWith('data:'))
      foreign.push(request.url());
  });
  page.on('console', (message) => {
    if (/Content Security Policy/i.test(message.text())) refused.push(message.text());
  });
  await page.goto('/');
  await expect(page.getByRole('main')).toBeVisible();
  expect(foreign).toEqual([]);
  expect(refused).toEqual([]);
});
