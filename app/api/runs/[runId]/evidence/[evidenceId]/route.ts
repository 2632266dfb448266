import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { removeEvidence } from '@/lib/registry/runs/addEvidence';
import { photosOf } from '@/lib/registry/runs/recordForm';
import { requireSameOrigin } from '../../../sameOrigin';

export const dynamic = 'force-dynamic';

/** Takes a photo off a draft and answers with those that are left. */
export async function DELETE(
  request: Request,
  { params }: { params: Promise<{ runId: string; evidenceId: string }> },
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const { runId, evidenceId } = await params;
    await removeEvidence(registry(), actor, { runId, evidenceId });
    return Response.json({ photos: await photosOf(registry(), actor, runId) });
  } catch (error) {
    return problemResponse(error);
  }
}
