import { boundedBody } from '@/app/api/runs/boundedBody';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { openFieldRun } from '@/lib/registry/runs/fieldCard';
import { InvalidInput } from '@/lib/run/errors';

export const dynamic = 'force-dynamic';

const MOST_BYTES = 512 * 1024;

/** Opens the draft of a run noted on a phone; sent again under the same key, it answers with the same draft. */
export async function POST(request: Request): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const body = await boundedBody(request, MOST_BYTES, 'The run is larger than any form can be.');
    const draft = await openFieldRun(registry(), actor, parseJson(body));
    return Response.json(draft, { status: 201 });
  } catch (error) {
    return problemResponse(error);
  }
}

function parseJson(body: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(body));
  } catch {
    throw new InvalidInput([
      {
        path: 'body',
        what: 'The body is not JSON.',
        why: 'A run is sent as {"accountId": …, "creationKey": …, "form": {…}}.',
        fix: 'Send it as JSON.',
      },
    ]);
  }
}
