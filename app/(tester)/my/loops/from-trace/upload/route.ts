import { postedTrace } from '@/app/api/runs/postedTrace';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { signedIn } from '@/app/visitor/actor';
import { problemOf, problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { authorise } from '@/lib/access/authorise';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { uploadForLoop } from '@/lib/registry/loops/loopFromTrace';

export const dynamic = 'force-dynamic';

/** Takes the recording that a loop is to be made from. A plain form is led on to the proposal. */
export async function POST(request: Request): Promise<Response> {
  const isPage = request.headers.get('accept')?.includes('text/html') ?? false;
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    authorise(actor, 'addLoop');
    await boundUse(registry(), actor, 'upload');
    const { traceId } = await uploadForLoop(registry(), actor, await postedTrace(request));
    return isPage ? to(`trace=${traceId}`) : Response.json({ traceId }, { status: 201 });
  } catch (error) {
    const { status, issues } = problemOf(error);
    if (!isPage || status === 401 || status === 403 || status === 429) return problemResponse(error);
    const isColumns = issues.some(({ path }) => path.startsWith('columns.'));
    return to(`notice=${status === 413 ? 'tooLarge' : isColumns ? 'columns' : 'unread'}`);
  }
}

/** A relative address (RFC 9110, 10.2.2), so that no header decides where the browser goes. */
function to(query: string): Response {
  return new Response(null, { status: 303, headers: { Location: `/my/loops/from-trace?${query}` } });
}
