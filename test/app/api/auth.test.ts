import { NextRequest } from 'next/server';
import { describe, expect, it, vi } from 'vitest';

vi.mock('next-auth', () => ({
  default: () => (request: Request) => request.text().then((text) => Response.json(text)),
}));
vi.mock('@/app/visitor/authOptions', () => ({ authOptions: {} }));
const { POST } = await import('@/app/api/auth/[...nextauth]/route');

const post = (body: string) =>
  POST(new NextRequest('http://localhost/api/auth/callback/credentials', { method: 'POST', body }), {
    params: Promise.resolve({ nextauth: ['callback', 'credentials'] }),
  });

describe('sign-in over the network', () => {
  it('hands a form on as it came', async () => {
    const response = await post('email=a%40b.example&password=x');
    expect(await response.json()).toBe('email=a%40b.example&password=x');
  });

  it('refuses a body that is no sign-in before all of it is read', async () => {
    expect((await post('x'.repeat(40_000))).status).toBe(413);
  });
});
