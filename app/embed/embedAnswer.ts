import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { publicAddress } from '@/app/runDossier/publicAddress';
import { entityTag, isKnownTag } from '@/app/visitor/entityTag';
import { isStorableText } from '@/lib/run/storableText';
import type { Embeddable } from './embeddable';
import { EMBED_THEMES, embedPage } from './embedPage';

/** Each name of an address with its values, bounded, and nothing in them that no text holds. */
export function askedOf(url: URL): SearchParams {
  const asked: SearchParams = {};
  for (const name of [...new Set(url.searchParams.keys())].slice(0, 20)) {
    const values = url.searchParams
      .getAll(name)
      .slice(0, 40)
      .filter((text) => text.length <= 200 && isStorableText(text));
    Object.defineProperty(asked, name, { value: values.length > 1 ? values : values[0], enumerable: true });
  }
  return asked;
}

/**
 * The live figure as plain HTML: without scripts, without cookies, without any other file, so that it is safe to frame
 * (its policy is set by the web process: lib/commands/serve/contentPolicy.ts).
 */
export async function embedAnswer(request: Request, found: Embeddable | undefined): Promise<Response> {
  const type = { 'Content-Type': 'text/html; charset=utf-8' };
  if (found === undefined) {
    const page =
      '<!doctype html><html lang="en-GB"><meta charset="utf-8"><title>Nothing here</title><p>There is no such figure.</p></html>\n';
    return new Response(page, { status: 404, headers: { ...type, 'Cache-Control': 'no-store' } });
  }
  const asked = one(askedOf(new URL(request.url)), 'theme');
  const theme = EMBED_THEMES.find((known) => known === asked) ?? 'auto';
  const page = await embedPage(found.figure, { theme, address: publicAddress(found.path) });
  const headers = {
    ...type,
    // Others may show it, in pages that let in only what says so: it holds nothing that is not public.
    'Cross-Origin-Resource-Policy': 'cross-origin',
    'Cross-Origin-Embedder-Policy': 'require-corp',
    'Cache-Control': 'public, max-age=300, stale-while-revalidate=86400',
    ETag: entityTag(page),
  };
  return isKnownTag(request.headers.get('if-none-match'), headers.ETag)
    ? new Response(null, { status: 304, headers })
    : new Response(page, { headers });
}
