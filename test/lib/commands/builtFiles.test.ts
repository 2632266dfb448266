import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { builtFiles } from '../../../lib/commands/serve/builtFiles';
import { compressBuilt } from '../../../lib/commands/serve/compressBuilt';

const SCRIPT = `run(${JSON.stringify('as long as it takes '.repeat(200))});\n`;
let built: string;
let server: Server;
let address: string;

beforeAll(async () => {
  built = mkdtempSync(join(tmpdir(), 'evenloop-built-'));
  const chunks = join(built, 'static', 'chunks');
  mkdirSync(chunks, { recursive: true });
  writeFileSync(join(built, 'secret.js'), SCRIPT);
  writeFileSync(join(chunks, 'long.js'), SCRIPT);
  writeFileSync(join(chunks, 'short.css'), 'p { margin: 0 }');
  writeFileSync(join(chunks, 'face.woff2'), Buffer.alloc(4096, 1));
  await compressBuilt(built);
  const handler = builtFiles(built, ({ url, method }, response) => void response.end(`${method} ${url}`));
  server = createServer(handler);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});

afterAll(() => {
  server.close();
  rmSync(built, { recursive: true });
});

const ask = (path: string, headers: Record<string, string> = {}, method = 'GET') =>
  fetch(address + path, { headers: { 'Accept-Encoding': 'identity', ...headers }, method });

it('compresses what is text and long enough, each way, without loss', () => {
  const chunks = join(built, 'static', 'chunks');
  expect(readdirSync(chunks).sort()).toEqual([
    'face.woff2',
    'long.js',
    'long.js.br',
    'long.js.gz',
    'short.css',
  ]);
  expect(gunzipSync(readFileSync(join(chunks, 'long.js.gz'))).toString()).toBe(SCRIPT);
  expect(brotliDecompressSync(readFileSync(join(chunks, 'long.js.br'))).toString()).toBe(SCRIPT);
});

it.each([
  ['gzip, deflate, br', 'br'],
  ['gzip', 'gzip'],
  ['identity', null],
])('sends to who takes %s the copy for them, to be kept for good', async (taken, sent) => {
  const answer = await ask('/_next/static/chunks/long.js', { 'Accept-Encoding': taken });
  expect(answer.status).toBe(200);
  expect(await answer.text()).toBe(SCRIPT);
  expect(answer.headers.get('content-encoding')).toBe(sent);
  expect(answer.headers.get('vary')).toBe('Accept-Encoding');
  expect(answer.headers.get('cache-control')).toMatch(/^public, ?max-age=31536000, ?immutable$/);
  expect(answer.headers.get('content-type')).toMatch(/^text\/javascript/);
  expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
});

it('says that what somebody has is still the same', async () => {
  const first = await ask('/_next/static/chunks/short.css');
  const etag = first.headers.get('etag') ?? '';
  expect(etag).not.toBe('');
  expect((await ask('/_next/static/chunks/short.css', { 'If-None-Match': etag })).status).toBe(304);
});

it('sends all of a file whatever part is asked for', async () => {
  for (const range of ['bytes=9-2', 'bytes=-5', 'bytes=99999999-', 'lines=1-2']) {
    const answer = await ask('/_next/static/chunks/long.js', { Range: range });
    expect([answer.status, await answer.text()], range).toEqual([200, SCRIPT]);
  }
});

it('leaves all else to the handler, with the address as it came', async () => {
  for (const path of [
    '/',
    '/rankings?class=kmh-90',
    '/_next/static/chunks/none.js',
    '/_next/static/..%2fsecret.js',
    '/_next/static/%2e%2e/secret.js?v=1',
    '/_next/static/__proto__',
  ]) {
    const asked = new URL(address + path);
    expect(await (await ask(path)).text(), path).toBe(`GET ${asked.pathname}${asked.search}`);
  }
  expect(await (await ask('/_next/static/chunks/long.js', {}, 'POST')).text()).toBe(
    'POST /_next/static/chunks/long.js',
  );
});
