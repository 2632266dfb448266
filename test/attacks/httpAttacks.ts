import { createHmac } from 'node:crypto';
import type { Attack, Outcome } from './attack';
import { Browser } from './browser';
import { NO_PHOTOS, NO_RECORDINGS } from './hostileFiles';

export interface Target {
  address: string;
  password: string;
  ownerEmail: string;
  otherEmail: string;
  /** Of the owner: a draft, and a run that was sent in with a photo. */
  draftId: string;
  draftVersion: number;
  evidenceId: string;
  photoDigest: string;
  /** The start of the file that no answer may hold. */
  foreignSign: RegExp;
}

const FOREIGN = ['https://evil.example', 'null', 'http://127.0.0.1.evil.example', 'http://localhost:1'];

const refusedWith = (status: number, allowed: readonly number[]): Outcome =>
  allowed.includes(status) ? 'refused' : `reached: status ${status}`;

/** Attacks over HTTP on a registry that runs on this machine. */
export async function httpAttacks(target: Target): Promise<Attack[]> {
  const attacks: Attack[] = [];
  const add = (name: string, run: () => Promise<Outcome>) => attacks.push({ name, run });
  const owner = new Browser(target.address);
  const other = new Browser(target.address);
  const nobody = new Browser(target.address);
  await owner.signIn(target.ownerEmail, target.password);
  await other.signIn(target.otherEmail, target.password);
  if (!(await owner.isSignedIn()) || !(await other.isSignedIn())) throw new Error('nobody could sign in');

  const writes: [string, string, RequestInit][] = [
    [
      'PUT',
      `/api/runs/${target.draftId}/draft`,
      { body: JSON.stringify({ draftVersion: target.draftVersion, form: { notes: 'taken' } }) },
    ],
    ['POST', `/api/runs/${target.draftId}/evidence`, { body: photoForm(new Uint8Array([1])) }],
    ['POST', `/api/runs/${target.draftId}/trace`, { body: traceForm('a.gpx', new Uint8Array([1])) }],
    ['DELETE', `/api/runs/${target.draftId}/evidence/${target.evidenceId}`, {}],
    ['POST', '/api/field/runs', { body: '{}' }],
    ['POST', '/my/loops/from-trace/upload', { body: traceForm('a.gpx', new Uint8Array([1])) }],
  ];
  for (const [method, path, init] of writes) {
    for (const origin of FOREIGN)
      add(`${method} ${path.replace(/[0-9a-f-]{36}/g, '…')} from ${origin}`, async () =>
        refusedWith((await owner.ask(path, { ...init, method, headers: { origin } })).status, [403]),
      );
    add(`${method} ${path.replace(/[0-9a-f-]{36}/g, '…')} by nobody`, async () =>
      refusedWith((await nobody.ask(path, { ...init, method })).status, [401, 403, 404]),
    );
    if (path.includes(target.draftId))
      add(`${method} ${path.replace(/[0-9a-f-]{36}/g, '…')} by another`, async () =>
        refusedWith((await other.ask(path, { ...init, method })).status, [403, 404]),
      );
  }

  const reads = [
    `/api/runs/${target.draftId}/trace`,
    `/api/field/runs/${target.draftId}`,
    `/record/${target.draftId}`,
    `/record/${target.draftId}/trace`,
    `/record/${target.draftId}/weather`,
    `/files/${target.photoDigest}`,
  ];
  for (const path of reads)
    add(`reads ${path.replace(/[0-9a-f-]{36}|[0-9a-f]{64}/g, '…')} of another`, async () =>
      refusedWith((await other.ask(path)).status, [403, 404]),
    );
  for (const path of [
    '/queue',
    '/people',
    '/audit',
    '/letters',
    '/protocol-versions',
    '/method-versions',
    '/shared-levels',
  ])
    add(`a tester opens ${path}`, async () => refusedWith((await owner.ask(path)).status, [403]));
  for (const path of ['/account', '/account/data.zip', '/my', '/people', '/record'])
    add(`nobody opens ${path}`, async () => refusedWith((await nobody.ask(path)).status, [401, 307, 303]));

  const paths = [
    '/files/..%2f..%2fetc%2fpasswd',
    '/files/%2e%2e%2f%2e%2e%2fsecret',
    `/files/${'0'.repeat(64)}`,
    '/figures/ranking/..%2f..%2f..%2fetc%2fpasswd',
    '/figures/..%2fx/a.svg',
    '/_next/static/..%2f..%2f..%2fpackage.json',
    '/_next/..%2f..%2f.env',
    '/..%2f..%2fetc/passwd',
    '/%c0%ae%c0%ae/etc/passwd',
    '/runs/%00',
    '/.env',
    '/.git/config',
    '/api/nothing/here',
  ];
  for (const path of paths)
    add(`path ${path.slice(0, 50)}`, async () => {
      const answer = await nobody.ask(path);
      const body = await answer.text();
      if (target.foreignSign.test(body)) return 'reached: a file of this machine';
      return answer.status >= 400 && answer.status < 500 ? 'refused' : `reached: status ${answer.status}`;
    });

  const texts = ["' OR '1'='1", '"; DROP TABLE "Run";--', '1) UNION SELECT 1--', '#{7*7}', '{{7*7}}', "%'_"];
  for (const value of [
    ...texts,
    '<script>alert(1)</script>',
    '"><img src=x onerror=alert(1)>',
    'javascript:alert(1)',
  ])
    for (const path of ['/runs', '/rankings', '/models'])
      add(`${path} with ${value}`, async () => {
        const query = ['q', 'class', 'model', 'from', 'unit'].map(
          (name) => `${name}=${encodeURIComponent(value)}`,
        );
        const answer = await nobody.ask(`${path}?${query.join('&')}`);
        const body = await answer.text();
        if (answer.status >= 500) return `reached: a fault, ${answer.status}`;
        if (/<script>alert|<img src=x/.test(body)) return 'reached: the page as a script';
        return 'refused';
      });
  for (const back of [
    'https://evil.example',
    '//evil.example',
    '/.//evil.example',
    '/\\evil.example',
    'javascript:alert(1)',
  ])
    add(`leads on to ${back}`, async () => {
      const body = await (await nobody.ask(`/sign-in?callbackUrl=${encodeURIComponent(back)}`)).text();
      return /href="(?:https?:)?\/\/evil|"callbackUrl":"(?:https?:\/\/|\/\/|javascript)/.test(body)
        ? 'reached: another site'
        : 'refused';
    });

  for (const [what, bytes] of Object.entries(NO_PHOTOS))
    add(`as a photo, ${what}`, async () => {
      const answer = await owner.ask(`/api/runs/${target.draftId}/evidence`, {
        method: 'POST',
        body: photoForm(bytes),
      });
      return refusedWith(answer.status, [413, 422]);
    });
  for (const [what, [name, bytes]] of Object.entries(NO_RECORDINGS))
    add(`as a recording, ${what}`, async () => {
      const answer = await owner.ask(`/api/runs/${target.draftId}/trace`, {
        method: 'POST',
        body: traceForm(name, bytes),
      });
      return refusedWith(answer.status, [413, 422]);
    });

  const big = new Uint8Array(24 * 1024 * 1024);
  const oversize: [string, string, string, BodyInit][] = [
    ['a draft', 'PUT', `/api/runs/${target.draftId}/draft`, 'x'.repeat(600 * 1024)],
    ['a photo', 'POST', `/api/runs/${target.draftId}/evidence`, photoForm(big)],
    ['a run of a phone', 'POST', '/api/field/runs', 'x'.repeat(600 * 1024)],
    ['a sign-in', 'POST', '/api/auth/callback/credentials', 'x'.repeat(40 * 1024)],
  ];
  for (const [what, method, path, body] of oversize)
    add(`too large: ${what}`, async () =>
      refusedWith((await owner.ask(path, { method, body })).status, [413]),
    );
  for (const body of [
    '[]',
    '"x"',
    '{',
    '{"__proto__":{"role":"steward"}}',
    `${'['.repeat(50_000)}`,
    '{"form":{"notes":"\\ud800"}}',
  ])
    add(`a draft that is ${body.slice(0, 30)}`, async () => {
      const { status } = await owner.ask(`/api/runs/${target.draftId}/draft`, { method: 'PUT', body });
      return refusedWith(status, [400, 404, 409, 422]);
    });

  const name = [...owner.cookies.keys()].find((one) => one.includes('session-token')) ?? '';
  const token = owner.cookies.get(name) ?? '';
  const part = (value: object) => Buffer.from(JSON.stringify(value)).toString('base64url');
  const claims = { accountId: target.evidenceId, sessionEpoch: 0, signInId: 'x' };
  const head = `${part({ alg: 'HS256' })}.${part(claims)}`;
  const forged: Record<string, string> = {
    unsigned: `${part({ alg: 'none' })}.${part(claims)}.`,
    'signed by a guess': `${head}.${createHmac('sha256', 'secret').update(head).digest('base64url')}`,
    'cut short': token.slice(0, -6),
    'with a letter changed': `${token.slice(0, 60)}${token[60] === 'A' ? 'B' : 'A'}${token.slice(61)}`,
    'of nothing': 'x',
    'very long': 'x'.repeat(3_000),
  };
  for (const [what, value] of Object.entries(forged))
    add(`a cookie ${what}`, async () => {
      const thief = new Browser(target.address);
      thief.cookies.set(name, value);
      return (await thief.isSignedIn()) ? 'reached: signed in' : 'refused';
    });
  add('a sign-in without the token of its form', async () => {
    const thief = new Browser(target.address);
    await thief.ask('/api/auth/callback/credentials', {
      method: 'POST',
      body: new URLSearchParams({ email: target.ownerEmail, password: target.password, json: 'true' }),
    });
    return (await thief.isSignedIn()) ? 'reached: signed in' : 'refused';
  });
  add('a cookie after signing out', async () => {
    const copy = new Browser(target.address);
    await copy.signIn(target.otherEmail, target.password);
    const thief = new Browser(target.address);
    for (const [key, value] of copy.cookies) thief.cookies.set(key, value);
    const { csrfToken } = (await (await copy.ask('/api/auth/csrf')).json()) as { csrfToken: string };
    await copy.ask('/api/auth/signout', {
      method: 'POST',
      body: new URLSearchParams({ csrfToken, json: 'true' }),
    });
    return (await thief.isSignedIn()) ? 'reached: signed in' : 'refused';
  });
  for (const method of ['TRACE', 'PATCH', 'PROPFIND'])
    add(`${method} at a run's draft`, async () => {
      const answer = await owner.ask(`/api/runs/${target.draftId}/draft`, { method }).catch(() => undefined);
      return answer === undefined || answer.status >= 400 ? 'refused' : `reached: status ${answer.status}`;
    });
  add('passwords by trying, over the network', async () => {
    for (let i = 0; i < 5; i += 1) await nobody.signIn('tried@people.example', `guess ${i}`);
    return refusedWith((await nobody.signIn('tried@people.example', 'guess')).status, [429]);
  });
  return attacks;
}

function photoForm(bytes: Uint8Array): FormData {
  const form = new FormData();
  form.set('evidence.startDisplay', new Blob([new Uint8Array(bytes)]), 'photo.jpg');
  return form;
}

function traceForm(name: string, bytes: Uint8Array): FormData {
  const form = new FormData();
  form.set('trace', new Blob([new Uint8Array(bytes)]), name);
  return form;
}
