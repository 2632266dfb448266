import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { progressOfImport } from '@/lib/registry/imports/importPage';
import { NotFound } from '@/lib/run/errors';
import { idOrNotFound } from '../../../readView';

export const dynamic = 'force-dynamic';

/** How far an import is, for its page to show. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ importId: string }> },
): Promise<Response> {
  const importId = idOrNotFound((await params).importId);
  try {
    const progress = await progressOfImport(registry(), await signedIn(), importId);
    if (progress === undefined) throw new NotFound('This import does not exist.');
    return Response.json(progress, { headers: { 'Cache-Control': 'private, no-store' } });
  } catch (error) {
    return problemResponse(error);
  }
}
