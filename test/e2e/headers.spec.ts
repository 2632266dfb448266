import { expect, test } from '@playwright/test';
import { browserAddress } from '../helpers/browserWorld';

test('every page says what it may load and that nobody may frame it', async ({ request }) => {
  const { headers } = await request.get('/').then((response) => ({ headers: response.headers() }));
  expect(headers['content-security-policy']).toContain("default-src 'self'");
  expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
  expect(headers['content-security-policy']).not.toMatch(/https?:/);
  // A script in the page runs by the nonce of its request only.
  expect(headers['content-security-policy']).toMatch(/script-src 'self' 'nonce-[^']+';/);
  expect(headers['x-request-id']).toMatch(/^[0-9a-f-]{36}$/);
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

test('each request has a nonce of its own, which every script in the page carries', async ({ request }) => {
  const nonces: string[] = [];
  for (const path of ['/', '/rankings', '/sign-in', '/no-such-page']) {
    const answer = await request.get(path);
    const nonce = /'nonce-([^']+)'/.exec(answer.headers()['content-security-policy'] ?? '')?.[1] ?? '';
    // a block of data never runs (HTML, 4.12.1)
    const scripts = (await answer.text()).match(/<script(?![^>]*application\/ld\+json)[^>]*>/g) ?? [];
    expect(scripts.length).toBeGreaterThan(1);
    expect(scripts.filter((script) => !script.includes(`nonce="${nonce}"`))).toEqual([]);
    nonces.push(nonce);
  }
  expect(new Set(nonces).size).toBe(nonces.length);
});

test('live and ready are two addresses, and the old one answers as ready', async ({ request }) => {
  expect(await (await request.get('/api/health/live')).json()).toEqual({ status: 'ok' });
  for (const path of ['/api/health/ready', '/api/health']) {
    // The worker starts once pages can be served.
    await expect(async () => {
      const ready = await request.get(path);
      expect(ready.status()).toBe(200);
      expect(await ready.json()).toMatchObject({
        checks: { page: { ok: true }, diskFreeMb: { ok: true }, workerSilentSeconds: { ok: true } },
      });
    }).toPass();
  }
});
