import { registry } from '@/app/visitor/registry';
import { isHealthy } from '@/lib/registry/home/health';

export const dynamic = 'force-dynamic';

/** For the start command and for whoever watches the server: 200 when the database answers. */
export async function GET(): Promise<Response> {
  const isUp = await isHealthy(registry());
  return Response.json({ status: isUp ? 'ok' : 'database unreachable' }, { status: isUp ? 200 : 503 });
}
