import { Readable } from 'node:stream';
import FeedParser from 'feedparser';

export interface ParsedFeed {
  meta: { title: string | null; link: string | null; xmlurl: string | null; date: Date | null };
  items: { guid: string; title: string; link: string; summary: string; author: string; date: Date | null }[];
}

/** A feed as a parser that is not ours reads it; rejects what it finds no feed. */
export function parsedFeed(xml: string): Promise<ParsedFeed> {
  return new Promise((resolve, reject) => {
    const parser = new FeedParser({ addmeta: false });
    const items: ParsedFeed['items'] = [];
    parser.on('error', reject);
    parser.on('readable', () => {
      for (let item = parser.read(); item !== null; item = parser.read()) items.push(item as never);
    });
    parser.on('end', () => resolve({ meta: parser.meta as unknown as ParsedFeed['meta'], items }));
    Readable.from([xml]).pipe(parser);
  });
}
