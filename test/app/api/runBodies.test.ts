import { afterEach, describe, expect, it, vi } from 'vitest';
import { boundedBody } from '@/app/api/runs/boundedBody';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { NotAllowed, TooLarge } from '@/lib/run/errors';

const streaming = (chunks: number, taken: { count: number }) =>
  new ReadableStream<Uint8Array>(
    {
      pull(controller) {
        if (taken.count >= chunks) controller.close();
        else {
          taken.count += 1;
          controller.enqueue(new Uint8Array(1000));
        }
      },
    },
    { highWaterMark: 0 },
  );

const post = (body: BodyInit | null, headers: Record<string, string> = {}) => {
  const init: RequestInit & { duplex: 'half' } = { method: 'POST', body, headers, duplex: 'half' };
  return new Request('http://loop.example/api', init);
};

describe('a body within bounds', () => {
  it('is read whole', async () => {
    const taken = { count: 0 };
    expect((await boundedBody(post(streaming(5, taken)), 5000, 'large')).byteLength).toBe(5000);
    expect(await boundedBody(post(null), 10, 'large')).toEqual(new Uint8Array());
  });

  it('is refused by its announced length without reading', async () => {
    const taken = { count: 0 };
    const request = post(streaming(5, taken), { 'Content-Length': '5001' });
    await expect(boundedBody(request, 5000, 'large')).rejects.toThrow(TooLarge);
    expect(taken.count).toBe(0);
  });

  it('is refused as soon as more has arrived than was allowed, whatever was announced', async () => {
    const taken = { count: 0 };
    const request = post(streaming(1000, taken), { 'Content-Length': '10' });
    await expect(boundedBody(request, 5000, 'large')).rejects.toThrow('large');
    expect(taken.count).toBeLessThan(10);
  });
});

describe('a request that changes something', () => {
  afterEach(() => vi.unstubAllEnvs());
  const from = (origin: string | undefined) =>
    post(null, { Host: 'loop.example', ...(origin === undefined ? {} : { Origin: origin }) });

  it('comes from a page of this site, by its host or by its public address', () => {
    expect(() => requireSameOrigin(from('http://loop.example'))).not.toThrow();
    vi.stubEnv('NEXTAUTH_URL', 'https://evenloop.example/');
    expect(() => requireSameOrigin(from('https://evenloop.example'))).not.toThrow();
  });

  it.each([
    'https://elsewhere.example',
    'http://loop.example.elsewhere.example',
    'null',
    'nonsense',
    undefined,
  ])('is refused with the origin %s', (origin) => {
    vi.stubEnv('NEXTAUTH_URL', 'https://evenloop.example/');
    expect(() => requireSameOrigin(from(origin))).toThrow(NotAllowed);
  });
});
