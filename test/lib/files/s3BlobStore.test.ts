import { createHash, createHmac } from 'node:crypto';
import { createServer, type IncomingMessage, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { BlobDamaged, BlobStoreFailed, digestOf } from '@/lib/files/blobStore';
import { s3BlobStore } from '@/lib/files/s3BlobStore';

const secretAccessKey = 'test/secret+key';
const text = (words: string) => new TextEncoder().encode(words);
const objects = new Map<string, Buffer>();
const seen: string[] = [];
let failuresLeft = 0;
let server: Server;
let endpoint = '';

/** Checks a signature as a store does: from the request as it arrived, written apart from the code under test. */
function isSigned(request: IncomingMessage, body: Buffer): boolean {
  const header = request.headers.authorization ?? '';
  const match =
    /^AWS4-HMAC-SHA256 Credential=key-id\/(\d{8})\/north-1\/s3\/aws4_request, ?SignedHeaders=([a-z0-9;-]+), ?Signature=([0-9a-f]{64})$/.exec(
      header,
    );
  if (match === null) return false;
  const [, day = '', names = '', signature = ''] = match;
  const payload = createHash('sha256').update(body).digest('hex');
  if (request.headers['x-amz-content-sha256'] !== payload) return false;
  const lines = names.split(';').map((name) => `${name}:${request.headers[name]}`);
  const canonical = `${request.method}\n${request.url}\n\n${lines.join('\n')}\n\n${names}\n${payload}`;
  const toSign = `AWS4-HMAC-SHA256\n${request.headers['x-amz-date']}\n${day}/north-1/s3/aws4_request\n${createHash('sha256').update(canonical).digest('hex')}`;
  let key: Buffer = createHmac('sha256', `AWS4${secretAccessKey}`).update(day).digest();
  for (const part of ['north-1', 's3', 'aws4_request']) key = createHmac('sha256', key).update(part).digest();
  return createHmac('sha256', key).update(toSign).digest('hex') === signature && names.includes('host');
}

beforeAll(async () => {
  server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const body = Buffer.concat(chunks);
      const path = request.url ?? '';
      seen.push(`${request.method} ${path}`);
      const answer = (status: number, content?: Buffer) => response.writeHead(status).end(content);
      if (failuresLeft > 0) {
        failuresLeft--;
        return answer(503);
      }
      if (!isSigned(request, body)) return answer(403);
      const kept = objects.get(path);
      if (request.method === 'PUT') {
        objects.set(path, body);
        return answer(200);
      }
      if (request.method === 'DELETE') {
        objects.delete(path);
        return answer(204);
      }
      return kept === undefined ? answer(404) : answer(200, request.method === 'HEAD' ? undefined : kept);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  endpoint = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => new Promise((resolve) => server.close(resolve)));
beforeEach(() => {
  objects.clear();
  seen.length = 0;
  failuresLeft = 0;
});

const store = (changes = {}) =>
  s3BlobStore({
    endpoint,
    bucket: 'evenloop',
    prefix: 'blobs',
    region: 'north-1',
    accessKeyId: 'key-id',
    secretAccessKey,
    firstPauseMs: 1,
    ...changes,
  });

describe('s3BlobStore', () => {
  it('puts, finds, returns and removes, each request signed', async () => {
    const digest = await store().put(text('abc'));
    expect([...objects.keys()]).toEqual([`/evenloop/blobs/ba/78/${digest}`]);
    expect(await store().has(digest)).toBe(true);
    expect(await store().get(digest)).toEqual(text('abc'));
    await store().remove(digest);
    expect(await store().has(digest)).toBe(false);
    expect(await store().get(digest)).toBeNull();
    await store().remove(digest);
  });

  it('keeps what is there without sending it again', async () => {
    await store().put(text('abc'));
    await store().put(text('abc'));
    expect(seen.filter((line) => line.startsWith('PUT'))).toHaveLength(1);
  });

  it('tries again when the store is busy, and gives up with a typed error', async () => {
    failuresLeft = 2;
    expect(await store().has(digestOf(text('x')))).toBe(false);
    expect(seen).toHaveLength(3);
    failuresLeft = 3;
    await expect(store().put(text('abc'))).rejects.toBeInstanceOf(BlobStoreFailed);
  });

  it('says what to check when refused, and does not take a refusal for absence', async () => {
    const stranger = store({ secretAccessKey: 'other' });
    await expect(stranger.get(digestOf(text('abc')))).rejects.toThrow('check the keys');
    await expect(stranger.has(digestOf(text('abc')))).rejects.toBeInstanceOf(BlobStoreFailed);
  });

  it('refuses bytes that do not match their digest', async () => {
    const digest = await store().put(text('abc'));
    objects.set(`/evenloop/blobs/ba/78/${digest}`, Buffer.from('abd'));
    await expect(store().get(digest)).rejects.toBeInstanceOf(BlobDamaged);
  });

  it('reports a store that cannot be reached', async () => {
    await expect(store({ endpoint: 'http://127.0.0.1:9' }).has(digestOf(text('x')))).rejects.toBeInstanceOf(
      BlobStoreFailed,
    );
  });
});
