import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AtomFeed, atomAnswer, atomXml } from '@/app/feeds/atom';
import { parsedFeed } from '@/test/helpers/parsedFeed';

const entry = (number: number, updated: string, title = `run ${number}`) => ({
  id: `https://registry.example/runs/${number}`,
  title,
  href: `https://registry.example/runs/${number}`,
  updated: new Date(updated),
  summary: '17.9 ± 0.3 kWh/100 km',
  author: 'Mira Holm',
});
const feed = (entries: AtomFeed['entries']): AtomFeed => ({
  title: 'Evenloop: Low ride height',
  subtitle: 'Runs that came to count',
  self: 'https://registry.example/feeds/setups/low.atom',
  page: 'https://registry.example/setups/low',
  entries,
  since: new Date('2026-01-01T00:00:00Z'),
});
const two = feed([entry(8, '2026-05-02T10:00:00Z'), entry(7, '2026-05-01T10:00:00Z')]);

describe('a feed', () => {
  it('is read by another parser as what it tells (RFC 4287)', async () => {
    const { meta, items } = await parsedFeed(atomXml(two));
    expect(meta).toMatchObject({ title: two.title, link: two.page, xmlurl: two.self });
    expect(meta.date).toEqual(new Date('2026-05-02T10:00:00Z'));
    expect(items.map(({ guid, title, link, author, date }) => [guid, title, link, author, date])).toEqual(
      two.entries.map(({ id, title, href, author, updated }) => [id, title, href, author, updated]),
    );
  });

  it('stays one whatever a name holds', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: 'binary', minLength: 1 }), async (words) => {
        const { items } = await parsedFeed(atomXml(feed([entry(1, '2026-05-01T10:00:00Z', words)])));
        expect(items).toHaveLength(1);
        expect(items[0]?.guid).toBe('https://registry.example/runs/1');
      }),
      { numRuns: 50 },
    );
  });

  it('is not sent again to who has it, by tag or by date', async () => {
    const ask = (headers: Record<string, string>) =>
      atomAnswer(new Request('https://registry.example/feeds/setups/low.atom', { headers }), two);
    const first = ask({});
    expect(first.status).toBe(200);
    const tag = first.headers.get('etag') as string;
    expect(ask({ 'If-None-Match': tag }).status).toBe(304);
    expect(ask({ 'If-None-Match': `W/${tag}` }).status).toBe(304);
    expect(ask({ 'If-None-Match': '"another"' }).status).toBe(200);
    expect(ask({ 'If-Modified-Since': first.headers.get('last-modified') as string }).status).toBe(304);
    expect(ask({ 'If-Modified-Since': 'Fri, 01 May 2026 10:00:00 GMT' }).status).toBe(200);
    // a tag goes before a date (RFC 9110, 13.1.3)
    expect(
      ask({ 'If-None-Match': '"another"', 'If-Modified-Since': 'Sun, 01 Nov 2026 10:00:00 GMT' }).status,
    ).toBe(200);
  });
});
