import { publicAddress } from '@/app/runDossier/publicAddress';

export const dynamic = 'force-dynamic';

/** What is of one account alone, or only leads to forms; all else may be read (RFC 9309). */
const PRIVATE = [
  '/account',
  '/field',
  '/import',
  '/my',
  '/notifications',
  '/record',
  '/report',
  '/review',
  '/unsubscribe',
];

export function GET(): Response {
  const lines = ['User-agent: *', ...PRIVATE.map((path) => `Disallow: ${path}`)];
  return new Response(`${lines.join('\n')}\n\nSitemap: ${publicAddress('/sitemap.xml')}\n`, {
    headers: { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'public, max-age=3600' },
  });
}
