import { afterEach, describe, expect, it, vi } from 'vitest';
import { embedCode, embedSize } from '@/app/embed/embedCode';
import { embedPage, MOST_BYTES } from '@/app/embed/embedPage';
import type { FigureDescription } from '@/app/ui/figures/description';
import { contentPolicy } from '@/lib/commands/serve/contentPolicy';
import { described, drawings } from '@/test/app/ui/figureSamples';

const ADDRESS = 'https://registry.example/studies/low';
const page = (figure: FigureDescription, theme: 'auto' | 'light' | 'dark' = 'auto') =>
  embedPage(figure, { theme, address: ADDRESS });
afterEach(() => vi.unstubAllEnvs());

/** So many days with long words, each in both drawings and in the table. */
function days(count: number, name: string): FigureDescription {
  const labels = Array.from({ length: count }, (_, i) => `${name} ${i + 1}`);
  return {
    title: `${name}: a sentence.`,
    desc: '',
    counts: '12 runs',
    source: { path: '/studies/low', asOf: '2026-11-27' },
    isDemo: true,
    mark: 'point',
    drawing: {
      kind: 'interval',
      label: 'days',
      unit: '%',
      axisLabel: 'difference, %',
      ordered: true,
      rows: labels.map((label, i) => ({
        key: label,
        label,
        detail: '27 Nov 2026',
        estimate: -1 - i / 100,
        low: -3,
        high: 1,
        text: '−1.0 %',
        intervalText: '−3.0 to +1.0',
      })),
    },
    table: {
      caption: 'Days',
      columns: [{ header: 'Day' }, { header: 'Difference', unit: '%' }],
      rows: labels.map((label) => [label, '−1.0']),
    },
  };
}

describe('a live figure', () => {
  it('is one page below 30 kB, whatever it is of, and says how much of it there is', async () => {
    for (const figure of [
      ...Object.values(drawings).map(described),
      days(5, 'Day'),
      days(60, 'A long name '.repeat(15)),
      days(800, 'Day'),
    ]) {
      const markup = await page(figure);
      expect(Buffer.byteLength(markup), figure.title).toBeLessThanOrEqual(MOST_BYTES);
      expect(markup).toContain(`href="${ADDRESS}"`);
      expect(markup).toContain(figure.counts);
    }
    const many = await page(days(800, 'Day'));
    const [, kept] = /(\d+) of 800 rows/.exec(many) ?? [];
    expect(Number(kept)).toBeGreaterThan(10);
    // The latest of them.
    expect(many).toContain('<th scope="row">Day 800</th>');
    expect(many).not.toContain('<th scope="row">Day 1</th>');
    expect(await page(days(5, 'Day'))).not.toContain(' rows');
  });

  it('has nothing that runs, loads or keeps, and its numbers as a table', async () => {
    const markup = await page(days(5, 'Day'));
    expect(markup).not.toMatch(
      /<script|<img|<link rel="(?!canonical)|\son[a-z]+=|url\(|@import|<form|data-row/i,
    );
    expect(markup.match(/<th scope="row">/g)).toHaveLength(5);
    expect(markup).toContain(
      '<a href="https://registry.example/studies/low" target="_blank" rel="noopener">',
    );
    expect(await page({ ...days(5, 'Day'), title: '<script>alert(1)</script>' })).not.toContain('<script');
  });

  it('has both themes, or the one that its address names, and each colour that it uses', async () => {
    const figure = days(3, 'Day');
    const [auto, light, dark] = [await page(figure), await page(figure, 'light'), await page(figure, 'dark')];
    expect(auto).toContain('@media (prefers-color-scheme:dark){:root{color-scheme:dark;');
    for (const markup of [light, dark]) expect(markup).not.toContain('prefers-color-scheme');
    expect(light).toContain('--paper:#f9faf6');
    expect(dark).toContain('--paper:#13181b');
    const used = new Set([...light.matchAll(/var\((--[a-z-]+)\)/g)].map(([, name]) => name));
    for (const name of used) expect(light).toContain(`${name}:#`);
  });

  it('may be framed by anybody, and nothing else may', () => {
    const policy = contentPolicy('/embed/studies/low', 'n', false);
    expect(policy).toContain('frame-ancestors *');
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain('script-src');
    expect(policy).not.toContain('allow-scripts');
    for (const path of ['/', '/studies/low', '/embedded', '/oembed'])
      expect(contentPolicy(path, 'n', false)).toContain("frame-ancestors 'none'");
  });

  it('is put into a page by code whose words cannot end it', () => {
    vi.stubEnv('NEXTAUTH_URL', 'https://registry.example');
    const found = {
      figure: days(3, 'Day'),
      title: 'Is "low" > <b>high</b> & dry?',
      path: '/studies/low',
      embedPath: '/embed/studies/low?setup=a&unit=Wh%2Fkm',
    };
    const size = embedSize(found, { width: 400 });
    expect(size.width).toBe(400);
    expect(size.height).toBeGreaterThan(embedSize(found).height / 2);
    expect(embedSize(found, { height: 200 })).toEqual({ width: 720, height: 200 });
    expect(embedCode(found, { width: 400, height: 300 })).toBe(
      '<iframe src="https://registry.example/embed/studies/low?setup=a&amp;unit=Wh%2Fkm" title="Is &quot;low&quot; &gt; &lt;b&gt;high&lt;/b&gt; &amp; dry?" width="400" height="300" style="border:0;max-width:100%" loading="lazy"></iframe>',
    );
  });
});
