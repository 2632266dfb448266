export const dynamic = 'force-dynamic';

/** For what keeps this process running: it answers, whatever the database and the background do. */
export function GET(): Response {
  return Response.json({ status: 'ok' }, { headers: { 'Cache-Control': 'no-store' } });
}
