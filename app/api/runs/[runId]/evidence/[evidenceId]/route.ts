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

type Photo = { runId: string; evidenceId: string };

interface PhotoAsked {
  params: Promise<Photo>;
}

/** What both have in common: who asks from where, how often, and that all photos of the run are the answer. */
async function answering(
  request: Request,
  { params }: PhotoAsked,
  act: (actor: Awaited<ReturnType<typeof signedIn>>, photo: Photo) => Promise<unknown>,
): Promise<Response> {
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await boundUse(registry(), actor, 'api');
    const photo = await params;
    await act(actor, photo);
    return Response.json({ photos: await photosOf(registry(), actor, photo.runId) });
  } catch (error) {
    return problemResponse(error);
  }
}

/** Takes a photo off a draft and answers with those that are left. */
export async function DELETE(request: Request, asked: PhotoAsked): Promise<Response> {
  return answering(request, asked, (actor, photo) => removeEvidence(registry(), actor, photo));
}

/** A frame for every reading fits many times over. */
const MOST_BYTES = 64 * 1024;

/** Keeps where on a photo its numbers are and answers with all photos of the run. */
export async function PUT(request: Request, asked: PhotoAsked): Promise<Response> {
  return answering(request, asked, async (actor, photo) => {
    const body = await boundedBody(request, MOST_BYTES, 'These are more frames than a photo can have.');
    const marks = jsonObject(body, 'Frames are sent as {"marks": […]}.');
    return markEvidence(registry(), actor, { ...marks, ...photo });
  });
}
