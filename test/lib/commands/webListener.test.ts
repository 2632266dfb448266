import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { nonceOf } from '@/app/visitor/nonce';
import { API_METHODS } from '@/lib/commands/serve/apiMethods';
import { contentPolicy, newNonce } from '@/lib/commands/serve/contentPolicy';
import { type Handler, webListener } from '@/lib/commands/serve/webListener';
import { doorsOfApp } from '@/test/integration/pages/authorisation/doors';

const servers: ReturnType<typeof createServer>[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
});

async function serving(handler: Handler, answerMs?: number): Promise<string> {
  const server = createServer(webListener(handler, false, answerMs));
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

describe('every request', () => {
  it('carries one nonce, to the framework and to the browser, and a number of its own', async () => {
    const seen: (string | undefined)[][] = [];
    const address = await serving(({ headers }, response) => {
      seen.push([String(headers['content-security-policy']), String(headers['x-request-id'])]);
      response.end('page');
    });
    const answers = [await fetch(address), await fetch(`${address}/rankings?class=kmh-90`)];
    const told = answers.map(({ headers }) => [
      headers.get('content-security-policy'),
      headers.get('x-request-id'),
    ]);
    expect(told).toEqual(seen);
    const nonces = told.map(([policy]) => nonceOf(policy ?? null));
    expect(nonces[0]).toMatch(/^[A-Za-z0-9+/]{22}==$/);
    expect(new Set([...nonces, ...told.map(([, id]) => id)]).size).toBe(4);
  });

  it('is told to come by TLS from now on where the site is reached by it, and nowhere else', async () => {
    const plain = await serving((_request, response) => void response.end('page'));
    expect((await fetch(plain)).headers.get('strict-transport-security')).toBeNull();
    vi.stubEnv('NEXTAUTH_URL', 'https://registry.example');
    const secure = await serving((_request, response) => void response.end('page'));
    vi.unstubAllEnvs();
    expect((await fetch(secure)).headers.get('strict-transport-security')).toBe('max-age=31536000');
  });

  it('is refused as problem details where a program asked', async () => {
    const address = await serving((_request, response) => void response.end('page'));
    const foreign = { method: 'POST', headers: { origin: 'https://elsewhere.example' } };
    const answer = await fetch(`${address}/api/runs/1/draft`, foreign);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([403, 'application/problem+json']);
    expect(await answer.json()).toMatchObject({ type: 'about:blank', status: 403 });
    expect((await fetch(`${address}/my`, foreign)).headers.get('content-type')).toMatch(/^text\/plain/);
  });

  it('is refused by a method that its address does not take, with those that it does', async () => {
    const address = await serving((_request, response) => void response.end('page'));
    const refused = async (method: string, path: string) => {
      const answer = await fetch(`${address}${path}`, { method });
      return [answer.status, answer.headers.get('allow'), answer.headers.get('content-type')];
    };
    const PROBLEM = 'application/problem+json';
    expect(await refused('DELETE', '/api/runs/1/draft?x=1')).toEqual([405, 'OPTIONS, PUT', PROBLEM]);
    expect(await refused('PUT', '/api/health/live/')).toEqual([405, 'GET, HEAD, OPTIONS', PROBLEM]);
    expect(await refused('PATCH', '/api/auth/callback/oidc')).toEqual([
      405,
      'GET, HEAD, OPTIONS, POST',
      PROBLEM,
    ]);
    for (const [method, path] of [
      ['PUT', '/api/runs/1/draft'],
      ['HEAD', '/api/health'],
      ['OPTIONS', '/api/field/runs'],
      ['DELETE', '/api/nothing'],
      ['DELETE', '/runs'],
    ] as const)
      expect((await refused(method, path))[0], path).toBe(200);
  });

  it('finds each address of the interface in that list, with the methods of its source', () => {
    const found = new Map<string, string[]>();
    for (const { kind, file, name } of doorsOfApp()) {
      if (kind !== 'route' || !file.startsWith('app/api/') || file.includes('[...rest]')) continue;
      const address = file
        .replace(/^app|\/route\.ts$/g, '')
        .replace(/\[\.{3}\w+\]/, '**')
        .replaceAll(/\[\w+\]/g, '*');
      found.set(address, [...(found.get(address) ?? []), name].sort());
    }
    expect(new Map([...API_METHODS].map(([address, methods]) => [address, [...methods].sort()]))).toEqual(
      found,
    );
  });

  it('carries where it comes from as the server sees it, never as its sender says', async () => {
    const seen: unknown[] = [];
    const address = await serving(({ headers }, response) => {
      seen.push(headers['x-evenloop-address']);
      response.end('page');
    });
    await fetch(address, {
      headers: { 'x-evenloop-address': '192.0.2.1', 'x-forwarded-for': '192.0.2.2' },
    });
    vi.stubEnv('EVENLOOP_PROXIES', '1');
    const behindProxy = await serving(({ headers }, response) => {
      seen.push(headers['x-evenloop-address']);
      response.end('page');
    });
    vi.unstubAllEnvs();
    await fetch(behindProxy, { headers: { 'x-forwarded-for': '203.0.113.5, 192.0.2.2' } });
    expect(seen).toEqual(['', '192.0.2.2']);
  });

  it('whose address cannot be decoded is refused before the framework sees it', async () => {
    let asked = 0;
    const address = await serving((_, response) => {
      asked += 1;
      response.end('page');
    });
    for (const path of ['/runs/%ED%A0%80', '/%E0%A4', '/%']) {
      const answer = await fetch(address + path);
      expect([answer.status, (await answer.text()).includes('cannot be decoded')]).toEqual([400, true]);
    }
    expect((await fetch(`${address}/runs?model=%ED%A0%80`)).status).toBe(200);
    expect(asked).toBe(1);
  });

  it('that a page of another site sends to change something is refused in words', async () => {
    let asked = 0;
    const address = await serving((_, response) => {
      asked += 1;
      response.end('page');
    });
    const sent = (origin: string | undefined, method = 'POST') =>
      fetch(`${address}/shared-levels`, { method, ...(origin === undefined ? {} : { headers: { origin } }) });
    for (const origin of [
      'https://elsewhere.example',
      'null',
      '',
      address.replace('127.0.0.1', '127.0.0.2'),
    ]) {
      const answer = await sent(origin);
      expect([origin, answer.status, await answer.text()]).toEqual([
        origin,
        403,
        'This request does not come from a page of this site.\n',
      ]);
    }
    expect(asked).toBe(0);
    for (const [origin, method] of [
      [address, 'POST'],
      [undefined, 'POST'],
      ['https://elsewhere.example', 'GET'],
    ] as const)
      expect((await sent(origin, method)).status).toBe(200);
  });

  it('takes no policy and no number from the sender', async () => {
    const seen: unknown[] = [];
    const address = await serving(({ headers }, response) => {
      seen.push(headers['content-security-policy'], headers['content-security-policy-report-only']);
      response.end(headers['x-request-id']);
    });
    const forged = "script-src 'nonce-knownToTheSender'";
    const answer = await fetch(address, {
      headers: {
        'content-security-policy': forged,
        'content-security-policy-report-only': forged,
        'x-request-id': 'mine',
      },
    });
    expect(await answer.text()).not.toBe('mine');
    expect(seen[0]).not.toContain('knownToTheSender');
    expect(seen[1]).toBeUndefined();
  });

  it('that the framework throws on is answered, and named in the log', async () => {
    const log = vi.spyOn(console, 'error').mockImplementation(() => undefined);
    const address = await serving(async () => {
      throw new Error('no such thing');
    });
    const answer = await fetch(`${address}/runs?secret=1`);
    expect(answer.status).toBe(500);
    const id = answer.headers.get('x-request-id') ?? '';
    expect(await answer.text()).toContain(id);
    expect(log.mock.calls[0]?.[0]).toBe(`request ${id}: GET /runs`);
    log.mockRestore();
  });

  it('that is never answered ends with a sentence', async () => {
    const address = await serving(() => new Promise(() => undefined), 50);
    const answer = await fetch(address);
    expect([answer.status, await answer.text()]).toEqual([503, 'This took too long. Try again.\n']);
  });
});

describe('the policy', () => {
  const scripts = (policy: string) => policy.split('; ').find((part) => part.startsWith('script-src'));

  it('allows scripts of the app and of the request’s nonce, nothing inline and nothing from elsewhere', () => {
    const nonce = newNonce();
    const policy = contentPolicy('/', nonce, false);
    expect(scripts(policy)).toBe(`script-src 'self' 'nonce-${nonce}'`);
    expect(policy).not.toMatch(/https?:/);
    expect(policy).toContain("frame-ancestors 'none'");
  });

  it('lets figures be framed, and stored files do nothing', () => {
    expect(contentPolicy('/embed/study', 'n', false)).toContain('frame-ancestors *');
    expect(contentPolicy('/files/abc', 'n', false)).toBe("default-src 'none'; sandbox");
    expect(contentPolicy('/embedded', 'n', false)).toContain("frame-ancestors 'none'");
  });
});
