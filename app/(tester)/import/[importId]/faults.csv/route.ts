import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { importFaults } from '@/lib/registry/imports/importPage';
import { idOrNotFound } from '../../../readView';

export const dynamic = 'force-dynamic';

/** The rows that make no run, with cell and reason. */
export async function GET(
  _request: Request,
  { params }: { params: Promise<{ importId: string }> },
): Promise<Response> {
  const importId = idOrNotFound((await params).importId);
  try {
    const csv = await importFaults(registry(), await signedIn(), importId);
    return new Response(`\uFEFF${csv}`, {
      headers: {
        'Content-Type': 'text/csv; charset=utf-8',
        'Content-Disposition': 'attachment; filename="evenloop-import-faults.csv"',
        'Cache-Control': 'private, no-store',
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
