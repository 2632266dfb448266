import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { removeEvidence } from '@/lib/registry/runs/addEvidence';
import { markEvidence } from '@/lib/registry/runs/markEvidence';
import { photosOf } from '@/lib/registry/runs/recordForm';
import { boundedBody } from '../../../boundedBody';
import { jsonObject } from '../../../jsonObject';
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

/** A frame for every reading fits many times over. */
const MOST_BYTES = 64 * 1024;

/** Keeps where on a photo its numbers are and answers with all photos of the run. */
export async function PUT(
  request: Request,
  { params }: { params: Promise<{ runId: string; evidenceId: string }> },
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const { runId, evidenceId } = await params;
    const body = await boundedBody(request, MOST_BYTES, 'These are more frames than a photo can have.');
    const input = { ...jsonObject(body, 'Frames are sent as {"marks": […]}.'), runId, evidenceId };
    await markEvidence(registry(), actor, input);
    return Response.json({ photos: await photosOf(registry(), actor, runId) });
  } catch (error) {
    return problemResponse(error);
  }
}
