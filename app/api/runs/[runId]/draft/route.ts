import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { boundedBody } from '../../boundedBody';
import { jsonObject } from '../../jsonObject';
import { requireSameOrigin } from '../../sameOrigin';

export const dynamic = 'force-dynamic';

/** All fields of a form, each within its bound, fit several times over. */
const MOST_BYTES = 512 * 1024;

/** Saves a draft over the version that the sender saw; 409 when it was changed in between. */
export async function PUT(
  request: Request,
  { params }: { params: Promise<{ runId: string }> },
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const body = await boundedBody(request, MOST_BYTES, 'The draft is larger than any form can be.');
    const input = {
      ...jsonObject(body, 'A draft is sent as {"draftVersion": …, "form": {…}}.'),
      runId: (await params).runId,
    };
    return Response.json(await saveDraft(registry(), actor, input));
  } catch (error) {
    return problemResponse(error);
  }
}
