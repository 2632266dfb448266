import { entityTag, isKnownTag } from '@/app/visitor/entityTag';

export interface AtomEntry {
  /** Never changes, whatever the entry comes to say: the address of what it tells of. */
  id: string;
  title: string;
  href: string;
  updated: Date;
  summary: string;
  author: string;
}

export interface AtomFeed {
  title: string;
  subtitle: string;
  /** Of the feed, and of the page that it is of. */
  self: string;
  page: string;
  /** The newest first. */
  entries: readonly AtomEntry[];
  /** Where there are none. */
  since: Date;
}

/** XML 1.0, 2.2: what no document may hold, however it is written. */
const NO_XML = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

function text(words: string): string {
  return words
    .replaceAll(NO_XML, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** A feed by RFC 4287. */
export function atomXml({ title, subtitle, self, page, entries, since }: AtomFeed): string {
  const updated = new Date(Math.max(since.getTime(), ...entries.map((entry) => entry.updated.getTime())));
  return [
    '<?xml version="1.0" encoding="utf-8"?>',
    '<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en-GB">',
    `<id>${text(self)}</id>`,
    `<title>${text(title)}</title>`,
    `<subtitle>${text(subtitle)}</subtitle>`,
    `<updated>${updated.toISOString()}</updated>`,
    '<author><name>Evenloop</name></author>',
    `<link rel="self" type="application/atom+xml" href="${text(self)}"/>`,
    `<link rel="alternate" type="text/html" href="${text(page)}"/>`,
    ...entries.map((entry) =>
      [
        '<entry>',
        `<id>${text(entry.id)}</id>`,
        `<title>${text(entry.title)}</title>`,
        `<link rel="alternate" type="text/html" href="${text(entry.href)}"/>`,
        `<updated>${entry.updated.toISOString()}</updated>`,
        `<author><name>${text(entry.author)}</name></author>`,
        `<summary>${text(entry.summary)}</summary>`,
        '</entry>',
      ].join(''),
    ),
    '</feed>',
    '',
  ].join('\n');
}

/** With what keeps a reader that asks each hour from reading the same again (RFC 9110, 13.1). */
export function atomAnswer(request: Request, feed: AtomFeed): Response {
  const body = atomXml(feed);
  const tag = entityTag(body);
  const newest = feed.entries[0]?.updated ?? feed.since;
  const headers = {
    'Content-Type': 'application/atom+xml; charset=utf-8',
    'Cache-Control': 'public, max-age=300',
    'Access-Control-Allow-Origin': '*',
    ETag: tag,
    'Last-Modified': newest.toUTCString(),
  };
  const known = request.headers.get('if-none-match');
  const isKnown =
    known === null ? isNotNewer(request.headers.get('if-modified-since'), newest) : isKnownTag(known, tag);
  return isKnown ? new Response(null, { status: 304, headers }) : new Response(body, { headers });
}

/** To the second, as the header says it; read only where no tag was sent. */
function isNotNewer(since: string | null, newest: Date): boolean {
  const at = since === null ? Number.NaN : Date.parse(since);
  return Math.floor(newest.getTime() / 1000) * 1000 <= at;
}
