import { signedIn } from '@/app/visitor/actor';
import { problemOf, problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { attachTrace } from '@/lib/registry/traces/attachTrace';
import { draftTrace } from '@/lib/registry/traces/draftTrace';
import { traceFile } from '@/lib/registry/traces/traceFile';
import { postedTrace } from '../../postedTrace';
import { requireSameOrigin } from '../../sameOrigin';

export const dynamic = 'force-dynamic';

/** Puts a recording to a draft. A script gets JSON or a problem; a plain form is led back to the recording's page. */
export async function POST(
  request: Request,
  { params }: { params: Promise<{ runId: string }> },
): Promise<Response> {
  const { runId } = await params;
  const isPage = request.headers.get('accept')?.includes('text/html') ?? false;
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    // Who may not send one is told before anything is read.
    await draftTrace(registry(), actor, runId);
    await boundUse(registry(), actor, 'upload');
    const attached = await attachTrace(registry(), actor, { runId, ...(await postedTrace(request)) });
    if (isPage) return backTo(runId, 'notice=added');
    return Response.json(attached, { status: attached.wasThere ? 200 : 201 });
  } catch (error) {
    const { status, issues } = problemOf(error);
    if (!isPage || status < 405 || status === 429) return problemResponse(error);
    const isColumns = issues.some(({ path }) => path.startsWith('columns.'));
    const code = status === 413 ? 'tooLarge' : status === 409 ? 'conflict' : isColumns ? 'columns' : 'unread';
    return backTo(runId, `notice=${code}`);
  }
}

/** The recording as it was sent. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ runId: string }> },
): Promise<Response> {
  try {
    const file = await traceFile(registry(), await signedIn(), (await params).runId);
    return new Response(Buffer.from(file.bytes), {
      headers: {
        'Content-Type': file.mediaType,
        'Content-Disposition': `attachment; filename="${file.fileName}"`,
        'Cache-Control': 'private, no-store',
        'X-Content-Type-Options': 'nosniff',
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}

/** A relative address (RFC 9110, 10.2.2), so that no header decides where the browser goes. */
function backTo(runId: string, query: string): Response {
  return new Response(null, {
    status: 303,
    headers: { Location: `/record/${encodeURIComponent(runId)}/trace?${query}` },
  });
}
