import { NextRequest } from 'next/server';
import NextAuth from 'next-auth';
import { boundedBody } from '@/app/api/runs/boundedBody';
import { authOptions } from '@/app/visitor/authOptions';
import { problemResponse } from '@/app/visitor/problem';
import { waitOfCode } from '@/app/visitor/waitCode';

/** An address, a password and a token, several times over: whoever asks here is not signed in yet. */
const MOST_BYTES = 32 * 1024;

interface Context {
  params: Promise<{ nextauth: string[] }>;
}

const handler: (request: NextRequest, context: Context) => Promise<Response> = NextAuth(authOptions);

export { handler as GET };

export async function POST(request: NextRequest, context: Context): Promise<Response> {
  try {
    const body = await boundedBody(request, MOST_BYTES, 'The form is larger than any sign-in.');
    const { method, headers } = request;
    return await withWait(await handler(new NextRequest(request.url, { method, headers, body }), context));
  } catch (error) {
    return problemResponse(error);
  }
}

/** That one has to wait is said in the status and its header too (RFC 6585, 4), for what reads no page. */
async function withWait(response: Response): Promise<Response> {
  if (response.status !== 401) return response;
  const answer: { url?: unknown } = await response.clone().json();
  if (typeof answer.url !== 'string' || !URL.canParse(answer.url)) return response;
  const waitS = waitOfCode(new URL(answer.url).searchParams.get('error'));
  if (waitS === undefined) return response;
  const headers = new Headers(response.headers);
  headers.set('Retry-After', String(waitS));
  return new Response(response.body, { status: 429, headers });
}
