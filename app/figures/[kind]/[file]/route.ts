import type { SearchParams } from '@/app/(public)/rankings/query';
import { publicAddress } from '@/app/runDossier/publicAddress';
import { CardPicture } from '@/app/ui/figures/CardPicture';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { FileExtension } from '@/app/ui/figures/figureAddress';
import { figureCsv } from '@/app/ui/figures/figureCsv';
import { figureVersion, versionOf } from '@/app/ui/figures/figureVersion';
import type { DrawnFigure } from '@/app/ui/figures/Picture';
import { pictureShapes } from '@/app/ui/figures/pictureShape';
import { type PageWords, pageWords, wordsOfPage } from '@/app/ui/pageWords';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { movedAddress } from '@/lib/registry/names/movedAddress';
import { NotFound } from '@/lib/run/errors';
import { isStorableText } from '@/lib/run/storableText';
import { markupOf, type PictureChoice, pictureMarkup, svgFile } from '../../pictureFile';
import { readFigure } from '../../publicFigures';
import { renderedPng } from '../../renderedPng';

export const dynamic = 'force-dynamic';

/** What asks anew soon, and what never changes: an address that names the version that it is answered with. */
const FRESH = 'public, max-age=300, stale-while-revalidate=86400';
const FOR_GOOD = 'public, max-age=31536000, immutable';

const TYPES: Readonly<Record<FileExtension, string>> = {
  svg: 'image/svg+xml',
  png: 'image/png',
  csv: 'text/csv; charset=utf-8',
};

/**
 * A figure as a file. Depends on the address and on published data alone, so that shared caches may keep it: for good
 * where the address names the version that it gets, and for minutes otherwise. An address whose version is over
 * answers as the figure stands now, so that what was quoted goes on opening.
 */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ kind: string; file: string }> },
): Promise<Response> {
  try {
    const { kind, file } = await params;
    const { key, extension } = nameOf(file);
    const query = queryOf(new URL(request.url).searchParams);
    const choice = choiceOf(query, extension);
    const shared = kind === 'card' ? pageWords.get(key) : undefined;
    if (shared) return await cardAnswer(shared, extension, choice);
    const figure = await readFigure(registry(), kind, key, query);
    // A shared link always has a picture: that of the registry where its page has nothing to draw.
    if (query.shape === 'share' && extension === 'png' && !(figure && isDrawn(figure))) {
      return await cardAnswer(wordsOfPage('home'), extension, choice);
    }
    if (figure === undefined) {
      const moved =
        (await movedAddress(registry(), 'loop', key)) ??
        (await movedAddress(registry(), 'model', key)) ??
        (await movedAddress(registry(), 'setup', key));
      if (moved !== undefined && moved !== key) {
        const url = new URL(request.url);
        const location = `/figures/${kind}/${moved}.${extension}${url.search}`;
        return new Response(null, { status: 308, headers: { Location: location, 'Cache-Control': FRESH } });
      }
    }
    if (figure === undefined) throw new NotFound('There is no such figure, or nothing to draw in it yet.');
    const address = publicAddress(figure.source.path);
    const version = figureVersion(figure);
    const tag = versionOf(version, extension, choice.theme, choice.shape);
    const headers = {
      'Content-Type': TYPES[extension],
      'Content-Disposition': `${extension === 'csv' ? 'attachment' : 'inline'}; filename="evenloop-${kind}-${key.replace(/[^\w-]/g, '-')}.${extension}"`,
      // Others may show it: it holds nothing that is not public.
      'Cross-Origin-Resource-Policy': 'cross-origin',
      'Cache-Control': query.v === version ? FOR_GOOD : FRESH,
      ETag: `"${tag}"`,
    };
    if (request.headers.get('if-none-match')?.includes(headers.ETag)) {
      return new Response(null, { status: 304, headers });
    }
    return new Response(await bodyOf(figure, address, extension, choice, tag), { headers });
  } catch (error) {
    return problemResponse(error);
  }
}

/** The picture of a link to a page without a figure of its own. */
async function cardAnswer(words: PageWords, extension: FileExtension, { theme, shape }: PictureChoice) {
  const share = shape ?? pictureShapes.get('share');
  if (extension !== 'png' || share === undefined) throw new NotFound('A page’s card is a PNG.');
  const address = publicAddress(words.path).replace(/^https?:\/\//, '');
  const markup = await markupOf(CardPicture({ ...words, address, shape: share }), theme);
  const tag = versionOf(markup);
  return new Response(new Uint8Array(await renderedPng(tag, markup)), {
    headers: {
      'Content-Type': TYPES.png,
      'Cross-Origin-Resource-Policy': 'cross-origin',
      'Cache-Control': FRESH,
      ETag: `"${tag}"`,
    },
  });
}

async function bodyOf(
  figure: FigureDescription,
  address: string,
  extension: FileExtension,
  choice: PictureChoice,
  tag: string,
): Promise<BodyInit> {
  if (extension === 'csv') return figureCsv(figure.table);
  if (!isDrawn(figure))
    throw new NotFound('There is nothing to draw in this figure yet; its table is at .csv.');
  const markup = await pictureMarkup(figure, { address: address.replace(/^https?:\/\//, '') }, choice);
  return extension === 'svg' ? svgFile(markup) : new Uint8Array(await renderedPng(tag, markup));
}

function isDrawn(figure: FigureDescription): figure is DrawnFigure {
  return figure.drawing.kind !== 'none';
}

function nameOf(file: string): { key: string; extension: FileExtension } {
  const [, key = '', extension = ''] = /^([\w.-]{1,200})\.(svg|png|csv)$/.exec(file) ?? [];
  if (extension === '') throw new NotFound('A figure’s file ends in .svg, .png or .csv.');
  return { key, extension: extension as FileExtension };
}

/** Each name with its values, bounded, and nothing in them that no text holds. */
function queryOf(given: URLSearchParams): SearchParams {
  const params: SearchParams = {};
  for (const name of new Set(given.keys())) {
    const values = given.getAll(name);
    if (values.length > 40 || [name, ...values].some((text) => text.length > 200 || !isStorableText(text))) {
      throw new NotFound('No figure has an address that says so much, or says what no text holds.');
    }
    Object.defineProperty(params, name, { value: values.length > 1 ? values : values[0], enumerable: true });
  }
  return params;
}

function choiceOf(query: SearchParams, extension: FileExtension): PictureChoice {
  const theme = query.theme ?? 'light';
  const shapeName = query.shape ?? (extension === 'png' ? 'wide' : undefined);
  const shape = typeof shapeName === 'string' ? pictureShapes.get(shapeName) : undefined;
  if (theme !== 'light' && theme !== 'dark') throw new NotFound('A figure’s theme is light or dark.');
  if (shapeName !== undefined && shape === undefined) {
    throw new NotFound(`A figure’s shape is one of: ${[...pictureShapes.keys()].join(', ')}.`);
  }
  return { theme, shape };
}
