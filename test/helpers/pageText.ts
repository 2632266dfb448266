import type { ReactElement } from 'react';
import { renderToReadableStream } from 'react-dom/server';

/** What a page says, as one line of words a block: server components rendered to the end, tags taken out. */
export async function pageText(page: ReactElement): Promise<string> {
  const stream = await renderToReadableStream(page);
  await stream.allReady;
  const markup = await new Response(stream).text();
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
