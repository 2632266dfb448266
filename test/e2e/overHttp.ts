import { type APIRequestContext, expect, type PlaywrightWorkerArgs } from '@playwright/test';
import { oldRegistryAddress } from '../helpers/browserWorld';
import { OLD_PASSWORD } from '../helpers/oldRegistry';

/** Somebody who asks the old registry over HTTP: signed in with the address, or nobody. */
export async function asking(
  playwright: PlaywrightWorkerArgs['playwright'],
  email?: string,
): Promise<APIRequestContext> {
  const context = await playwright.request.newContext({
    baseURL: oldRegistryAddress,
    // Hundreds of pages are read whole here, by a reader on the same machine.
    extraHTTPHeaders: { Origin: oldRegistryAddress, 'Accept-Encoding': 'identity' },
    timeout: 20_000,
  });
  if (email === undefined) return context;
  const { csrfToken } = await (await context.get('/api/auth/csrf')).json();
  await context.post('/api/auth/callback/credentials', {
    form: { csrfToken, email, password: OLD_PASSWORD, json: 'true', callbackUrl: '/' },
  });
  const session = await (await context.get('/api/auth/session')).json();
  expect(session.accountId, `${email} is signed in`).toBeTruthy();
  return context;
}

/** A server component that threw leaves this in the stream, also where the status was sent as 200 before. */
const THROWN = /data-dgst="\d/;

/** What is wrong with an answer as such: a fault of the server, in its status or inside the page. */
export function faultIn(status: number, body: string): string | undefined {
  if (status >= 500) return `status ${status}`;
  return THROWN.test(body) ? `a part of the page failed (${status})` : undefined;
}

/** As many requests at a time as keep one server busy. */
const AT_ONCE = 4;

/** Asks for each in its turn, a few side by side; what is added to the list meanwhile is asked for too. */
export async function askAll<Item>(waiting: Item[], ask: (item: Item) => Promise<void>): Promise<void> {
  while (waiting.length > 0) await Promise.all(waiting.splice(0, AT_ONCE).map(ask));
}

/** What is wrong with the answers to a list of addresses. */
export async function faultsAt(asker: APIRequestContext, paths: readonly string[]): Promise<string[]> {
  const faults: string[] = [];
  await askAll([...paths], async (path) => {
    const answer = await asker.get(path);
    const fault = faultIn(answer.status(), await answer.text());
    if (fault !== undefined) faults.push(`${path}: ${fault}`);
  });
  return faults;
}
