import { parse } from 'csv-parse/sync';
import createClient from 'openapi-fetch';
import { SaxesParser } from 'saxes';
import { expect, it } from 'vitest';
import { answer } from '@/app/api/v1/answer';
import { RESOURCES } from '@/app/api/v1/resources';
import { atomXml } from '@/app/feeds/atom';
import { feedOf } from '@/app/feeds/feedOf';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { WANTED } from '@/lib/registry/factors/factors';
import { readRankings } from '@/lib/registry/rankings/rankings';
import type { Registry } from '@/lib/registry/registry';
import type { paths } from '@/test/helpers/apiTypes';
import { parsedFeed } from '@/test/helpers/parsedFeed';

const BASE = 'https://registry.example/api/v1';

/** What a program reads, by the client that a generator made of the description, over the whole demo world. */
export function itIsReadByPrograms(of: () => { registry: Registry }): void {
  const fetch = async (input: string | Request, init?: RequestInit): Promise<Response> => {
    const request = new Request(input, init);
    const segments = new URL(request.url).pathname
      .slice('/api/v1/'.length)
      .split('/')
      .map(decodeURIComponent);
    return answer(of().registry, request, segments, () => ({ left: 10, resetS: 60 }));
  };
  const client = createClient<paths, 'application/json'>({ baseUrl: BASE, fetch });

  it('says of a ranking what its page says, in pages of the same order', async () => {
    const { data } = await client.GET('/rankings', {
      params: { query: { class: 'kmh-110', world: 'demo' } },
    });
    const view = await readRankings(of().registry, { classKey: 'kmh-110', world: 'demo' });
    expect(data?.ranked.length).toBeGreaterThan(5);
    expect(
      data?.ranked.map(({ slug, estimateWhPerKm, lowWhPerKm }) => [slug, estimateWhPerKm, lowWhPerKm]),
    ).toEqual(
      view?.ranked.map(({ slug, estimateWhPerKm, lowWhPerKm }) => [slug, estimateWhPerKm, lowWhPerKm]),
    );
    expect(data?.rankedOf).toBe(view?.rankedOf);
  });

  it('says of a difference what its page of comparison says', async () => {
    const { data: ranking } = await client.GET('/rankings', { params: { query: { world: 'demo' } } });
    const setups = (ranking?.ranked ?? []).slice(0, 4).map(({ slug }) => slug);
    const { data } = await client.GET('/comparisons', {
      params: { query: { setups: setups.join(','), class: ranking?.cruiseClass, world: 'demo' } },
    });
    const view = await readComparison(of().registry, {
      classKey: ranking?.cruiseClass,
      world: 'demo',
      setupSlugs: setups,
      wanted: WANTED,
    });
    expect(data?.differences).toHaveLength(3);
    expect(data?.differences.map(({ percent, word, pointwise }) => [percent, word, pointwise])).toEqual(
      view?.differences.map(({ percent, word, pointwise }) => [percent, word, pointwise]),
    );
  });

  it('is walked through by its cursors, each run once, none that is not public', async () => {
    const numbers: number[] = [];
    let from: string | undefined;
    let total = 0;
    do {
      const { data } = await client.GET('/runs', { params: { query: from === undefined ? {} : { from } } });
      for (const run of data?.items ?? []) numbers.push(run.number);
      total = data?.total ?? 0;
      from = data?.next ?? undefined;
    } while (from !== undefined && numbers.length < 2000);
    expect(numbers).toHaveLength(total);
    expect(new Set(numbers).size).toBe(total);
    expect(total).toBeGreaterThan(300);
    const shown = await of().registry.db.run.count({
      where: { number: { in: numbers }, status: { in: ['draft', 'submitted', 'changesAsked', 'rejected'] } },
    });
    expect(shown).toBe(0);
  });

  it('opens one of everything that is listed', async () => {
    const opened = new Map<string, number>();
    const { data: models } = await client.GET('/models', {});
    const { data: loops } = await client.GET('/loops', {});
    const { data: runs } = await client.GET('/runs', { params: { query: { state: 'approved' } } });
    const { data: factors } = await client.GET('/factors', { params: { query: { world: 'demo' } } });
    const { data: studies } = await client.GET('/studies', { params: { query: { world: 'demo' } } });
    const model = models?.items.find(({ runs: driven }) => driven > 0)?.slug ?? '';
    const { data: setups } = await client.GET('/setups', { params: { query: { model } } });
    const examples: Readonly<Record<string, string | undefined>> = {
      '/models/{slug}': model,
      '/setups/{slug}': setups?.items.find(({ isBaseline }) => isBaseline)?.slug,
      '/loops/{slug}': loops?.items[0]?.slug,
      '/runs/{number}': String(runs?.items[0]?.number),
      '/factors/{key}': factors?.factors[0]?.key,
      '/studies/{slug}': studies?.items[0]?.slug,
      '/protocol/{version}': '1.0',
    };
    const queries: Readonly<Record<string, string>> = {
      '/setups': `?model=${model}`,
      '/comparisons': `?setups=${(setups?.items ?? []).slice(0, 2).map(({ slug }) => slug)}`,
    };
    for (const { path, list } of RESOURCES) {
      const part = examples[path];
      if (path.includes('{') && part === undefined) continue;
      const address = `${BASE}${path.replace(/\{\w+\}/, part ?? '')}${queries[path] ?? ''}`;
      const json = await fetch(address);
      expect(json.status, address).toBe(200);
      const body = await json.json();
      opened.set(path, 1);
      const known = await fetch(address, { headers: { 'If-None-Match': `W/${json.headers.get('etag')}` } });
      expect([known.status, await known.text()], address).toEqual([304, '']);
      const asCsv = await fetch(address, { headers: { Accept: 'text/csv' } });
      expect(asCsv.status, address).toBe(list === undefined ? 406 : 200);
      if (list === undefined) continue;
      const rows = parse(await asCsv.text(), { columns: true });
      expect(rows, address).toHaveLength(body[list].length);
    }
    expect(opened.size).toBeGreaterThanOrEqual(RESOURCES.length - 1);
  });

  it('refuses what it does not know as problem details (RFC 9457), with a sentence', async () => {
    for (const [path, status] of [
      ['/nothing', 404],
      ['/runs/999999', 404],
      ['/runs/__proto__', 404],
      ['/models/toString', 404],
      ['/runs?clas=kmh-110', 422],
      ['/setups', 422],
      [`/runs?tester=${'a'.repeat(301)}`, 422],
    ] as const) {
      const refused = await fetch(`${BASE}${path}`);
      expect([refused.status, refused.headers.get('content-type')], path).toEqual([
        status,
        'application/problem+json',
      ]);
      const problem = await refused.json();
      expect(problem.status).toBe(status);
      expect(problem.title.length, path).toBeGreaterThan(10);
      expect(refused.headers.get('access-control-allow-origin')).toBe('*');
    }
  });

  it('finds every public page in a sitemap, none of which is closed to programs', async () => {
    const sitemap = await (await import('@/app/sitemap.xml/route')).GET();
    const found: string[] = [];
    const parser = new SaxesParser();
    let inPlace = false;
    parser.on('opentag', ({ name }) => {
      inPlace = name === 'loc';
    });
    parser.on('text', (text) => {
      if (inPlace && text.trim() !== '') found.push(text);
    });
    parser.write(await sitemap.text()).close();
    expect(new Set(found).size).toBe(found.length);
    for (const kind of ['models', 'setups', 'loops', 'testers', 'runs'])
      expect(found.filter((path) => path.includes(`/${kind}/`)).length, kind).toBeGreaterThan(2);
    const robots = await (await import('@/app/robots.txt/route')).GET().text();
    expect(robots).toMatch(/^Sitemap: .*\/sitemap\.xml$/m);
    const closed = [...robots.matchAll(/^Disallow: (.+)$/gm)].map(([, path = '']) => path);
    expect(closed.length).toBeGreaterThan(5);
    expect(found.filter((path) => closed.some((start) => path.startsWith(start)))).toEqual([]);
  });

  it('has a feed of everything, and of each setup, loop, tester and study, with what counts there', async () => {
    const { data: runs } = await client.GET('/runs', { params: { query: { state: 'approved' } } });
    const { data: studies } = await client.GET('/studies', { params: { query: { world: 'demo' } } });
    const [run] = runs?.items ?? [];
    const study = studies?.items[0];
    const paths: [string[], number][] = [
      [['all.atom'], 50],
      [['setups', `${run?.setup.slug}.atom`], 1],
      [['loops', `${run?.loop.slug}.atom`], 1],
      [['testers', `${run?.tester.slug}.atom`], 1],
      ...(study === undefined ? [] : [[['studies', `${study.slug}.atom`], 1] satisfies [string[], number]]),
    ];
    for (const [path, least] of paths) {
      const feed = await feedOf(of().registry, path);
      const { items } = await parsedFeed(feed === undefined ? '' : atomXml(feed));
      expect(items.length, path.join('/')).toBeGreaterThanOrEqual(least);
      expect(new Set(items.map(({ guid }) => guid)).size).toBe(items.length);
    }
    for (const path of [['setups', 'nothing.atom'], ['__proto__', 'x.atom'], ['all.atom', 'x'], []])
      expect(await feedOf(of().registry, path)).toBeUndefined();
  });
}
