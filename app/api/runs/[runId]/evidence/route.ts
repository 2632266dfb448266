import { attachPhotos } from '@/app/(tester)/record/[runId]/attachPhotos';
import { runFormOf } from '@/app/(tester)/record/formValues';
import { PHOTO_LIMIT_BYTES, PHOTO_LIMIT_TEXT } from '@/app/(tester)/record/photoLimit';
import { signedIn } from '@/app/visitor/actor';
import { problemOf, problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { photosOf } from '@/lib/registry/runs/recordForm';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { InvalidInput } from '@/lib/run/errors';
import { boundedBody } from '../../boundedBody';
import { requireSameOrigin } from '../../sameOrigin';

export const dynamic = 'force-dynamic';

/** One photo of the largest kind, the texts of the form and what multipart puts around them. */
const MOST_BYTES = PHOTO_LIMIT_BYTES + 1024 * 1024;

/**
 * Adds the photos of a posted form (`evidence.<kind>`). A script is answered with all photos of the run; a plain
 * form, which carries the draft along, has it saved too and is led back to its page.
 */
export async function POST(
  request: Request,
  { params }: { params: Promise<{ runId: string }> },
): Promise<Response> {
  const { runId } = await params;
  const isPage = request.headers.get('accept')?.includes('text/html') ?? false;
  try {
    requireSameOrigin(request);
    const actor = await signedIn();
    await photosOf(registry(), actor, runId);
    const data = await postedForm(request);
    if (data.has('draftVersion')) {
      const draftVersion = Number(data.get('draftVersion'));
      await saveDraft(registry(), actor, { runId, draftVersion, form: runFormOf(data) });
    }
    const added = await attachPhotos(actor, runId, data);
    if (added.length === 0 && !data.has('draftVersion')) throw noPhoto();
    if (isPage) return backTo(runId, 'photos');
    return Response.json({ photos: await photosOf(registry(), actor, runId) }, { status: 201 });
  } catch (error) {
    const { status } = problemOf(error);
    if (!isPage || status < 404) return problemResponse(error);
    return backTo(runId, status === 413 ? 'photoTooLarge' : status === 409 ? 'conflict' : 'photoRefused');
  }
}

function noPhoto(): InvalidInput {
  return new InvalidInput([
    {
      path: 'evidence',
      what: 'No photo was sent.',
      why: 'There is nothing to keep.',
      fix: 'Choose a photo under what it shows.',
    },
  ]);
}

async function postedForm(request: Request): Promise<FormData> {
  const body = await boundedBody(
    request,
    MOST_BYTES,
    `The photo is larger than ${PHOTO_LIMIT_TEXT}. Send a smaller version of it.`,
  );
  try {
    const headers = { 'Content-Type': request.headers.get('content-type') ?? '' };
    return await new Response(body, { headers }).formData();
  } catch {
    throw new InvalidInput([
      {
        path: 'evidence',
        what: 'The body is not a form with files.',
        why: 'Photos are sent as multipart/form-data (RFC 7578).',
        fix: 'Send it from the form.',
      },
    ]);
  }
}

/** A relative address (RFC 9110, 10.2.2), so that no header decides where the browser goes. */
function backTo(runId: string, notice: string): Response {
  return new Response(null, {
    status: 303,
    headers: { Location: `/record/${encodeURIComponent(runId)}?notice=${notice}#part-evidence` },
  });
}
