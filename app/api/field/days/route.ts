import { boundedBody } from '@/app/api/runs/boundedBody';
import { jsonObject } from '@/app/api/runs/jsonObject';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { openFieldDay } from '@/lib/registry/runs/fieldCard';

export const dynamic = 'force-dynamic';

const MOST_BYTES = 512 * 1024;

/** Opens the sheet of a day noted on a phone; sent again under the same key, it answers with what that sheet says. */
export async function POST(request: Request): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const body = await boundedBody(request, MOST_BYTES, 'The day is larger than any form can be.');
    const why = 'A day is sent as {"accountId": …, "creationKey": …, "localDate": …, "form": {…}}.';
    return Response.json(await openFieldDay(registry(), actor, jsonObject(body, why)), { status: 201 });
  } catch (error) {
    return problemResponse(error);
  }
}
