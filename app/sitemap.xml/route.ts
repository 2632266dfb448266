import { publicAddress } from '@/app/runDossier/publicAddress';
import { pageWords } from '@/app/ui/pageWords';
import { registry } from '@/app/visitor/registry';
import { publicPaths } from '@/lib/registry/names/publicPaths';

export const dynamic = 'force-dynamic';

const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');

/** Every public page, for search engines (sitemaps.org protocol 0.9). */
export async function GET(): Promise<Response> {
  const lists = [...pageWords.values()].map(({ path }) => path);
  const paths = [...new Set([...lists, ...(await publicPaths(registry()))])];
  const places = paths.map((path) => `<url><loc>${escaped(publicAddress(path))}</loc></url>`);
  return new Response(
    `<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n${places.join('\n')}\n</urlset>\n`,
    { headers: { 'Content-Type': 'application/xml', 'Cache-Control': 'public, max-age=3600' } },
  );
}
