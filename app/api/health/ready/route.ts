import { registry } from '@/app/visitor/registry';
import { readReadiness } from '@/lib/registry/home/readiness';

export const dynamic = 'force-dynamic';

/** For whoever sends readers here: 200 when pages can be served, with what is amiss behind them. */
export async function GET(): Promise<Response> {
  const readiness = await readReadiness(registry());
  return Response.json(readiness, {
    status: readiness.status === 'unready' ? 503 : 200,
    headers: { 'Cache-Control': 'no-store' },
  });
}
