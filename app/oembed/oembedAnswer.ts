import { askedOf } from '@/app/embed/embedAnswer';
import { embedCode, embedSize } from '@/app/embed/embedCode';
import { type Embeddable, embeddableComparison, embeddableStudy } from '@/app/embed/embeddable';
import { publicAddress } from '@/app/runDossier/publicAddress';
import { figureHref } from '@/app/ui/figures/figureAddress';
import { pictureShapes } from '@/app/ui/figures/pictureShape';
import type { Registry } from '@/lib/registry/registry';

/** oEmbed 1.0 (https://oembed.com), as its provider: JSON alone, of the pages that have a live figure. */

/** The whole address under which a consumer asks about one of our pages. */
export function oembedAddress(path: string): string {
  return publicAddress(`/oembed?${new URLSearchParams({ url: publicAddress(path), format: 'json' })}`);
}

export async function oembedAnswer(registry: Registry, request: Request): Promise<Response> {
  const asked = new URL(request.url).searchParams;
  // Section 2.3.3 of the specification: what the provider cannot say in the format that is asked for is a 501.
  if ((asked.get('format') ?? 'json') !== 'json')
    return said(501, 'Answers are given as JSON alone: ask with format=json.');
  const found = await embeddableAt(registry, asked.get('url') ?? '');
  if (found === undefined)
    return said(404, 'Only pages of studies and of comparisons of this registry have a live figure.');
  return new Response(JSON.stringify(responseOf(found, mostOf(asked))), {
    headers: {
      'Content-Type': 'application/json; charset=utf-8',
      'Access-Control-Allow-Origin': '*',
      'Cache-Control': 'public, max-age=300',
    },
  });
}

/** Of our own address, whole, and nothing else: no request leaves from here. */
async function embeddableAt(registry: Registry, text: string): Promise<Embeddable | undefined> {
  const own = process.env.NEXTAUTH_URL;
  if (!own || text.length > 4000 || !URL.canParse(text)) return undefined;
  const url = new URL(text);
  if (url.origin !== new URL(own).origin) return undefined;
  const [, slug] = /^\/studies\/([^/]+)\/?$/.exec(url.pathname) ?? [];
  if (slug !== undefined) return embeddableStudy(registry, slug, askedOf(url));
  return /^\/compare\/?$/.test(url.pathname) ? embeddableComparison(registry, askedOf(url)) : undefined;
}

interface Most {
  width?: number;
  height?: number;
}

function mostOf(asked: URLSearchParams): Most {
  const one = (name: string) => {
    const text = asked.get(name) ?? '';
    return /^[1-9]\d{0,5}$/.test(text) ? Number(text) : undefined;
  };
  const [width, height] = [one('maxwidth'), one('maxheight')];
  return { ...(width === undefined ? {} : { width }), ...(height === undefined ? {} : { height }) };
}

/** The names are the specification's (sections 2.3.4 and 2.3.4.4). */
function responseOf(found: Embeddable, most: Most) {
  const { figure, title, author } = found;
  const size = embedSize(found, most);
  const share = pictureShapes.get('share');
  // A picture has to keep to the limits as well, or to be left out.
  const hasPicture =
    figure.address !== undefined &&
    figure.drawing.kind !== 'none' &&
    share !== undefined &&
    share.width <= (most.width ?? share.width) &&
    share.height <= (most.height ?? share.height);
  return {
    version: '1.0',
    type: 'rich',
    title,
    ...(author ? { author_name: author.name, author_url: publicAddress(author.path) } : {}),
    provider_name: 'Evenloop',
    provider_url: publicAddress('/'),
    cache_age: 3600,
    ...(hasPicture && figure.address
      ? {
          thumbnail_url: publicAddress(figureHref(figure.address, 'png', { shape: 'share' })),
          thumbnail_width: share.width,
          thumbnail_height: share.height,
        }
      : {}),
    html: embedCode(found, size),
    ...size,
  };
}

function said(status: number, words: string): Response {
  return new Response(`${words}\n`, {
    status,
    headers: {
      'Content-Type': 'text/plain; charset=utf-8',
      'Access-Control-Allow-Origin': '*',
      'Cache-Control': 'no-store',
    },
  });
}
