import { boundedBody } from '@/app/api/runs/boundedBody';
import { jsonObject } from '@/app/api/runs/jsonObject';
import { requireSameOrigin } from '@/app/api/runs/sameOrigin';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';

const MOST_BYTES = 512 * 1024;

/** Opens what a phone noted, or tells what the server holds of it by now; `what` and `why` say what is sent, and how. */
export async function openedFromPhone(
  request: Request,
  { what, why }: { what: string; why: string },
  open: (registry: Registry, actor: Actor | undefined, input: object) => Promise<object>,
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const body = await boundedBody(request, MOST_BYTES, `The ${what} is larger than any form can be.`);
    return Response.json(await open(registry(), actor, jsonObject(body, why)), { status: 201 });
  } catch (error) {
    return problemResponse(error);
  }
}
