import { boundedBody } from '@/app/api/runs/boundedBody';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { unsubscribe } from '@/lib/registry/accounts/noticeMail';
import { InvalidInput, NotFound } from '@/lib/run/errors';

export const dynamic = 'force-dynamic';

/** One pair and its frame. */
const MOST_BYTES = 4096;

/** The button of a mail program (RFC 8058, 3.2): one request without a visit, which is never led elsewhere. */
export async function POST(request: Request): Promise<Response> {
  try {
    const body = await boundedBody(request, MOST_BYTES, 'The request is too large for what it asks.');
    if (!(await asksForIt(request, body))) throw notAsked();
    const token = new URL(request.url).searchParams.get('token') ?? '';
    if (!(await unsubscribe(registry(), { token }))) throw new NotFound('This link does not work any more.');
    return new Response('Your letters have ended.\n', {
      headers: { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'no-store' },
    });
  } catch (error) {
    return problemResponse(error);
  }
}

/** Programs that only know the older header open its address (RFC 2369): the page with the button, which ends nothing. */
export function GET(request: Request): Response {
  const { searchParams } = new URL(request.url);
  const page = new URLSearchParams({ token: searchParams.get('token') ?? '' });
  return new Response(null, {
    status: 303,
    headers: {
      Location: `/unsubscribe?${page}`,
      'Cache-Control': 'no-store',
      'Referrer-Policy': 'no-referrer',
    },
  });
}

/** Of either form (RFC 8058, 3.2): `List-Unsubscribe=One-Click`. */
async function asksForIt(request: Request, body: Uint8Array<ArrayBuffer>): Promise<boolean> {
  const headers = { 'Content-Type': request.headers.get('content-type') ?? '' };
  const form = await new Response(body, { headers }).formData().catch(() => undefined);
  return form?.get('List-Unsubscribe') === 'One-Click';
}

function notAsked(): InvalidInput {
  return new InvalidInput([
    {
      path: 'List-Unsubscribe',
      what: 'The request does not say what it is for.',
      why: 'Programs that only follow links must not end letters (RFC 8058).',
      fix: 'Send List-Unsubscribe=One-Click as a form.',
    },
  ]);
}
