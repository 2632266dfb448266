import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { serverDraft } from '@/lib/registry/runs/fieldCard';

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
