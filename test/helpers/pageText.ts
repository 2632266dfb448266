import type { ReactElement } from 'react';
import { renderToReadableStream } from 'react-dom/server';

/** Server components rendered to the end. */
async function pageMarkup(page: ReactElement): Promise<string> {
  const stream = await renderToReadableStream(page);
  await stream.allReady;
  return new Response(stream).text();
}

type Page = (props: {
  params: Promise<Record<string, string>>;
  searchParams: Promise<Record<string, string | string[]>>;
}) => Promise<ReactElement>;

/** A page of the app by its module, with the parts of its address. */
export async function renderedPage(
  load: Promise<{ default: unknown }>,
  params: Record<string, string> = {},
  query: Record<string, string | string[]> = {},
): Promise<string> {
  const page = (await load).default as Page;
  return pageMarkup(await page({ params: Promise.resolve(params), searchParams: Promise.resolve(query) }));
}

/** What a page says, as one line of words a block: tags taken out. */
export function textOfMarkup(markup: string): string {
  return markup
    .replace(/<!--.*?-->/g, '')
    .replace(/<\/(p|li|dd|dt|td|th|h\d|tr|figcaption|summary|text|span|div)>/g, '\n')
    .replace(/<[^>]+>/g, '')
    .replace(/&#x27;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .split('\n')
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter((line) => line !== '')
    .join('\n');
}
