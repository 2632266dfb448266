import { signedIn } from '@/app/session/actor';
import { problemResponse } from '@/app/session/problem';
import { registry } from '@/app/session/registry';
import { serverDraft } from '@/lib/registry/views/fieldCard';

export const dynamic = 'force-dynamic';

/** What the server holds of a run, to tell a lost answer from a change made elsewhere. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ runId: string }> },
): Promise<Response> {
  try {
    const draft = await serverDraft(registry(), await signedIn(), (await params).runId);
    return Response.json(draft, { headers: { 'Cache-Control': 'private, no-store' } });
  } catch (error) {
    return problemResponse(error);
  }
}
