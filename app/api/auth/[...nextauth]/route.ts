import { NextRequest } from 'next/server';
import NextAuth from 'next-auth';
import { boundedBody } from '@/app/api/runs/boundedBody';
import { authOptions } from '@/app/visitor/authOptions';
import { problemResponse } from '@/app/visitor/problem';

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
    return await handler(new NextRequest(request.url, { method, headers, body }), context);
  } catch (error) {
    return problemResponse(error);
  }
}
