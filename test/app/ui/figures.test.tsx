import { describe, expect, it } from 'vitest';
import type { FigureDrawing } from '@/app/ui/figures/description';
import { Figure } from '@/app/ui/figures/Figure';
import { figureVersion } from '@/app/ui/figures/figureVersion';
import { IntervalPlot } from '@/app/ui/figures/IntervalPlot';
import { ringShares } from '@/app/ui/figures/kinds/rose';
import { ShapedPicture } from '@/app/ui/figures/Picture';
import { pictureShapes } from '@/app/ui/figures/pictureShape';
import { StateTimeline } from '@/app/ui/figures/StateTimeline';
import { described, drawings, intervalRows } from './figureSamples';
import { all, type Element, only, render, textOf } from './markup';

const images = (page: Element) =>
  all(page, 'svg').filter((svg) => svg.attributes.class?.split(' ').includes('h-auto'));

const drawn = Object.values(drawings).filter(({ kind }) => kind !== 'interval');

describe.each(drawn.map((drawing) => [drawing.kind, drawing] as const))('%s', (_, drawing) => {
  const page = render(<Figure figure={described(drawing)} />);

  it('is drawn for wide and for narrow, and said once: by its caption and its table', () => {
    expect(images(page)).toHaveLength(2);
    for (const image of images(page)) {
      expect(image.attributes['aria-hidden']).toBe('true');
      expect(all(image, 'title')).toHaveLength(0);
    }
    expect(textOf(only(page, 'figcaption'))).toContain(described(drawing).title);
    expect(JSON.stringify(page).replaceAll('\u202f', ' ').split(described(drawing).title)).toHaveLength(2);
  });

  it('places every mark by a number, inside the drawing', () => {
    for (const image of images(page)) {
      expect(JSON.stringify(image)).not.toMatch(/NaN|Infinity|undefined/);
      const [, , width = 0, height = 0] = (image.attributes.viewBox ?? '').split(' ').map(Number);
      for (const text of all(image, 'text')) {
        const x = Number(text.attributes.x ?? 0);
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(width);
        expect(Number(text.attributes.y)).toBeLessThanOrEqual(height);
      }
      for (const circle of all(image, 'circle').filter(({ attributes }) => attributes.cx !== undefined)) {
        expect(Number(circle.attributes.cx)).toBeGreaterThan(0);
        expect(Number(circle.attributes.cx)).toBeLessThan(width);
      }
    }
  });

  it('has marks to read out, each of a row that the table has', () => {
    const rows = described(drawing).table.rows.length;
    for (const image of images(page)) {
      const marks = everyElement(image).flatMap(({ attributes }) => attributes['data-row'] ?? []);
      expect(marks.length).toBeGreaterThan(0);
      for (const row of marks) expect(Number(row)).toBeLessThan(rows);
    }
  });
});

function everyElement(element: Element): Element[] {
  return element.children.flatMap((child) =>
    typeof child === 'string' ? [] : [child, ...everyElement(child)],
  );
}

describe('pictures of fixed shape', () => {
  it.each(['wide', 'upright'])('hold every row of a dozen long ones: %s', (name) => {
    const shape = pictureShapes.get(name);
    if (!shape) throw new Error(`no shape ${name}`);
    const drawing: FigureDrawing = {
      kind: 'forest',
      axisLabel: 'difference in consumption, %',
      markLabel: 'this difference alone, 95 %',
      outerLabel: 'all comparisons at once, 95 %',
      rows: Array.from({ length: 12 }, (_, at) => ({
        key: String(at),
        label: `Roof and hitch items: Roof box ${at} · a maker’s model, 2024, Double cab, two motors`,
        estimate: at,
        simultaneous: [at - 1, at + 1],
        text: `${at} %`,
        note: 'probable, rests on one tester',
      })),
    };
    const figure = { ...described(drawing), drawing };
    const picture = render(<ShapedPicture figure={figure} words={{ address: 'a.example' }} shape={shape} />);
    expect(textOf(picture)).not.toContain('all are in the table');
    expect(all(picture, 'circle')).toHaveLength(12);
  });
});

describe('positions', () => {
  const narrow = (drawing: FigureDrawing) => {
    const [first] = images(render(<Figure figure={described(drawing)} />));
    if (!first) throw new Error('nothing drawn');
    return first;
  };

  it('of a forest plot lie in order on one axis, the estimate midway in a symmetric interval', () => {
    const image = narrow({
      kind: 'forest',
      axisLabel: '%',
      markLabel: 'alone',
      outerLabel: 'all at once',
      domain: [-10, 10],
      rows: [{ key: 'a', label: 'A', estimate: 5, simultaneous: [0, 10], text: '5' }],
    });
    const dot = all(image, 'g').filter((g) =>
      g.children.some((c) => typeof c !== 'string' && c.name === 'circle'),
    );
    // Strip of the narrow drawing: 8 … 292, so 5 on −10 … 10 lies at 8 + 0.75 · 284.
    expect(dot.map((g) => g.attributes.transform?.split(' ')[0])).toEqual(['translate(221']);
  });

  it('of an interval narrower than its dot still stand out over and under it', () => {
    const image = narrow({
      kind: 'forest',
      axisLabel: '%',
      markLabel: 'alone',
      outerLabel: 'all at once',
      domain: [-10, 10],
      rows: [
        { key: 'a', label: 'A', estimate: 5, pointwise: [5, 5], simultaneous: [4.999, 5.001], text: '5' },
      ],
    });
    const radius = Number(only(image, 'circle').attributes.r);
    const caps = all(image, 'path').flatMap(({ attributes }) => {
      const [, from, to] = /^M0 (-[\d.]+)V([\d.]+)$/.exec(attributes.d ?? '') ?? [];
      return from && to ? [{ over: -Number(from), under: Number(to) }] : [];
    });
    expect(caps).toHaveLength(4);
    for (const { over, under } of caps) {
      expect(over).toBeGreaterThan(radius + 1);
      expect(under).toBeGreaterThan(radius + 1);
    }
  });

  it('beyond the axis end in an arrowhead instead of leaving it', () => {
    const image = narrow({
      kind: 'forest',
      axisLabel: '%',
      markLabel: 'alone',
      outerLabel: 'all at once',
      domain: [-2, 2],
      rows: [{ key: 'a', label: 'A', estimate: 1, simultaneous: [-1, 9], text: '1' }],
    });
    expect(all(image, 'path').some((path) => path.attributes.d?.startsWith('M0 0l-7'))).toBe(true);
  });

  it('of a step bar run from its start to its end', () => {
    const image = narrow({
      kind: 'waterfall',
      axisLabel: 'Wh/km',
      domain: [180, 200],
      measured: { label: 'M', value: 200, text: '200' },
      normalised: { label: 'N', value: 190, text: '190' },
      steps: [{ key: 's', label: 'S', from: 200, to: 190, text: '−10' }],
    });
    const bar = all(image, 'rect').find(({ attributes }) => attributes.height === '12')?.attributes ?? {};
    expect(Number(bar.x)).toBeCloseTo(8 + 284 / 2, 6);
    expect(Number(bar.width)).toBeCloseTo(284 / 2, 6);
  });

  it('of a budget bar go with the share', () => {
    const bars = all(
      narrow({
        kind: 'budget',
        bars: [
          { key: 'a', label: 'A', share: 0.6, text: '' },
          { key: 'b', label: 'B', share: 0.2, text: '' },
        ],
        axisLabel: 'share',
      }),
      'rect',
    ).filter(({ attributes }) => attributes.height === '10');
    expect(Number(bars[0]?.attributes.width) / Number(bars[1]?.attributes.width)).toBeCloseTo(3, 6);
  });

  it('on the map keep the shape: equal metres, equal lengths, north up', () => {
    const square = [
      { eastM: 0, northM: 0 },
      { eastM: 1000, northM: 1000 },
    ];
    const image = narrow({ kind: 'map', legs: [{ key: 'o', label: 'out', points: square }], places: [] });
    const leg = all(image, 'path')[0]?.attributes.d ?? '';
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = (leg.match(/-?[\d.]+/g) ?? []).map(Number);
    expect(x2 - x1).toBeCloseTo(y1 - y2, 1); // paths are written to a tenth
    expect(y2).toBeLessThan(y1);
  });

  it('of rose petals go with the root of the share, so that areas can be compared', () => {
    const image = narrow({
      kind: 'rose',
      label: '',
      sectorWidthDeg: 20,
      sectors: [
        { bearingDeg: 0, share: 0.8 },
        { bearingDeg: 90, share: 0.2 },
      ],
    });
    const radii = all(image, 'path')
      .flatMap((path) => /A([\d.]+) /.exec(path.attributes.d ?? '')?.[1] ?? [])
      .map(Number);
    expect((radii[0] ?? 0) / (radii[1] ?? 1)).toBeCloseTo(2, 2);
  });

  it('of a rose’s rings are those of the round shares that they name, the largest within the rose', () => {
    for (const largest of [0.004, 0.03, 0.12, 0.31, 0.5, 1]) {
      const image = narrow({
        kind: 'rose',
        label: '',
        sectorWidthDeg: 20,
        sectors: [{ bearingDeg: 0, share: largest }],
      });
      const [radius = 0] = all(image, 'path').flatMap((path) =>
        (/A([\d.]+) /.exec(path.attributes.d ?? '')?.slice(1) ?? []).map(Number),
      );
      const rings = all(image, 'circle').map(({ attributes }) => Number(attributes.r));
      const named = all(image, 'text').flatMap((text) => /^([\d.]+)\s%$/.exec(textOf(text))?.[1] ?? []);
      expect(named.map(Number)).toEqual(ringShares(largest).map((share) => Number((100 * share).toFixed(1))));
      expect(rings).toHaveLength(named.length);
      expect(rings.length).toBeGreaterThan(0);
      expect(rings.length).toBeLessThanOrEqual(3);
      rings.forEach((r, i) => {
        expect((r / radius) ** 2).toBeCloseTo(Number(named[i]) / 100 / largest, 2);
        expect(r).toBeLessThanOrEqual(radius + 0.1);
      });
    }
  });

  it('show one dot for every other run', () => {
    const others = [1, 1, 1, 2, 3, 3.001];
    const image = narrow({
      kind: 'histogram',
      axisLabel: '',
      othersLabel: 'o',
      own: { value: 2, label: 'me' },
      others: others.map((value) => ({ value })),
    });
    const places = all(image, 'circle').map((c) => `${c.attributes.cx} ${c.attributes.cy}`);
    expect(new Set(places).size).toBe(others.length);
  });
});

describe('IntervalPlot', () => {
  const page = render(<IntervalPlot {...drawings.interval} mark="point" />);

  it('is a named ordered list whose rows read as text', () => {
    const list = only(page, 'ol');
    expect(list.attributes['aria-label']).toBe('Setups by consumption');
    expect(textOf(all(list, 'li')[0] ?? list)).toBe(
      'Low150.0 Wh/km 95 % interval (140.0 to 160.0)settled, against the car as delivered: Low4 runs',
    );
    expect(all(list, 'a').map((a) => a.attributes.href)).toEqual(['/s/a', '/compare?setup=b&setup=a']);
  });

  it('draws each row on the same axis, in percent of the strip', () => {
    const strips = all(only(page, 'ol'), 'svg').filter((svg) => svg.attributes.class);
    const dots = (svg?: Element) =>
      svg
        ? all(svg, 'svg').flatMap((place) => (all(place, 'circle').length > 0 ? [place.attributes.x] : []))
        : [];
    expect(dots(strips[0])).toEqual(['50.000%']);
    expect(dots(strips[1])).toEqual(['80.000%', '70.000%']); // before normalising, then after
    const interval = all(strips[0] ?? page, 'line').find((line) => line.attributes['stroke-width'] === '3');
    expect([interval?.attributes.x1, interval?.attributes.x2]).toEqual(['40.000%', '60.000%']);
  });

  it('puts ticks and gridlines at the same shares of the width', () => {
    const places = (name: string) =>
      all(page, 'line').flatMap(({ attributes }) => (attributes[name] ? [attributes.x1] : []));
    expect(places('data-tick').length).toBeGreaterThan(2);
    expect(places('data-gridline')).toEqual(intervalRows.flatMap(() => places('data-tick')));
  });

  it('hides the strips from assistive technology, since the row says the same', () => {
    for (const svg of all(page, 'svg')) expect(svg.attributes['aria-hidden']).toBe('true');
  });
});

describe('a figure on a page', () => {
  const page = render(<Figure figure={described(drawings.forest)} />);

  it('has a caption and a table twin that opens without scripts', () => {
    expect(textOf(only(page, 'figcaption'))).toContain('“Low” uses 3 % less');
    const folded = all(page, 'details');
    expect(folded.map((one) => textOf(only(one, 'summary')))).toEqual([
      'The numbers as a table',
      'Save this figure',
    ]);
    const twin = folded[0] as (typeof folded)[number];
    expect(textOf(only(twin, 'caption'))).toBe('Differences');
    expect(all(twin, 'th').map((th) => [th.attributes.scope, textOf(th)])).toEqual([
      ['col', 'Setup'],
      ['col', 'Difference %'],
      ...['Low', 'Eco', 'Std', 'Tall', 'Wide'].map((name) => ['row', name]),
    ]);
    expect(all(twin, 'td').map(textOf)).toEqual(['−3.0', '−0.4', '0.0', '+1.0', '+2.0']);
  });

  it('links to its files', () => {
    const files = all(page, 'a').map((link) => [textOf(link), link.attributes.href]);
    const v = figureVersion(described(drawings.forest));
    const question = 'setup=std&setup=low';
    expect(files).toContainEqual(['SVG', `/figures/differences/kmh-110.svg?${question}&v=${v}&world=demo`]);
    expect(files).toContainEqual(['CSV', `/figures/differences/kmh-110.csv?${question}&v=${v}&world=demo`]);
    expect(files).toContainEqual([
      'PNG upright',
      `/figures/differences/kmh-110.png?${question}&shape=upright&v=${v}&world=demo`,
    ]);
  });

  it('is of another version as soon as it says anything else', () => {
    const figure = described(drawings.forest);
    const versions = [
      figure,
      { ...figure, counts: '213 runs' },
      { ...figure, mark: 'comma' as const },
      { ...figure, source: { ...figure.source, asOf: '2026-11-21' } },
      described({ ...drawings.forest, axisLabel: 'as the other' }),
    ].map(figureVersion);
    expect(new Set(versions).size).toBe(versions.length);
    expect(figureVersion(structuredClone(figure))).toBe(versions[0]);
  });

  it('has no files where only its reader may see it', () => {
    const { address: _, ...own } = described(drawings.forest);
    expect(all(render(<Figure figure={own} />), 'a').map(textOf)).toEqual(['Low']);
  });

  it('says why where nothing can be drawn, and offers the table alone', () => {
    const none = render(<Figure figure={described({ kind: 'none', why: 'No pair has an interval.' })} />);
    expect(images(none)).toEqual([]);
    expect(textOf(none)).toContain('No pair has an interval.');
    expect(all(none, 'a').map(textOf)).toEqual(['Low', 'CSV']);
  });
});

describe('StateTimeline', () => {
  it('lists what happened, in order, with machine-readable days', () => {
    const page = render(
      <StateTimeline
        label="History"
        entries={[
          { key: '1', state: 'submitted', when: { dateTime: '2026-05-03', text: '3 May' } },
          {
            key: '2',
            state: 'changesAsked',
            when: { dateTime: '2026-05-04', text: '4 May' },
            note: 'No photo.',
          },
        ]}
      />,
    );
    expect(all(only(page, 'ol'), 'li').map(textOf)).toEqual([
      'Submitted3 May',
      'Changes asked4 MayNo photo.',
    ]);
    expect(all(page, 'time').map((t) => t.attributes.dateTime ?? t.attributes.datetime)).toEqual([
      '2026-05-03',
      '2026-05-04',
    ]);
  });
});
