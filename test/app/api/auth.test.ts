import { NextRequest } from 'next/server';
import { describe, expect, it, vi } from 'vitest';

vi.mock('next-auth', () => ({
  default: () => async (request: Request) => {
    const text = await request.text();
    return text.startsWith('http') ? Response.json({ url: text }, { status: 401 }) : Response.json(text);
  },
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

  it('says in status and header for how long to wait', async () => {
    const waiting = await post('http://localhost/sign-in?error=wait-37');
    expect([waiting.status, waiting.headers.get('Retry-After')]).toEqual([429, '37']);
    expect(await waiting.json()).toEqual({ url: 'http://localhost/sign-in?error=wait-37' });
    const wrong = await post('http://localhost/sign-in?error=CredentialsSignin');
    expect([wrong.status, wrong.headers.get('Retry-After')]).toEqual([401, null]);
  });

  it('refuses a body that is no sign-in before all of it is read', async () => {
    expect((await post('x'.repeat(40_000))).status).toBe(413);
  });
});
