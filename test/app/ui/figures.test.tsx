import type { ReactElement } from 'react';
import { describe, expect, it } from 'vitest';
import { BearingRose } from '@/app/ui/figures/BearingRose';
import { BudgetBars } from '@/app/ui/figures/BudgetBars';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { ForestPlot } from '@/app/ui/figures/ForestPlot';
import { figureFile } from '@/app/ui/figures/figureFile';
import { HistogramStrip } from '@/app/ui/figures/HistogramStrip';
import { IntervalFigure } from '@/app/ui/figures/IntervalFigure';
import { IntervalPlot } from '@/app/ui/figures/IntervalPlot';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';
import { PairsPlot } from '@/app/ui/figures/PairsPlot';
import { ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import type { FigureTarget } from '@/app/ui/figures/ResponsiveSvg';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import { ScatterBand } from '@/app/ui/figures/ScatterBand';
import { StateTimeline } from '@/app/ui/figures/StateTimeline';
import { Waterfall } from '@/app/ui/figures/Waterfall';
import { all, type Element, only, referenced, render, textOf } from './markup';

const said = { title: 'What it is', desc: 'What it shows' };
const intervalRows: IntervalRow[] = [
  {
    key: 'a',
    label: 'Low',
    href: '/s/a',
    estimate: 150,
    low: 140,
    high: 160,
    text: '150.0',
    intervalText: '140.0 to 160.0',
    counts: '4 runs',
  },
  {
    key: 'b',
    label: 'High',
    estimate: 170,
    text: '170.0',
    intervalText: 'one run',
    muted: true,
    before: { value: 180, text: 'raw 180.0' },
  },
];
const route = [
  { eastM: 0, northM: 0 },
  { eastM: 3000, northM: 500 },
  { eastM: 9000, northM: 2000 },
];

const figures: [string, (target: FigureTarget) => ReactElement][] = [
  [
    'ForestPlot',
    (target) => (
      <ForestPlot
        {...said}
        target={target}
        axisLabel="Difference, %"
        rows={[
          { key: 'a', label: 'Low', estimate: -3, pointwise: [-4, -2], simultaneous: [-5, -1], text: '−3 %' },
        ]}
      />
    ),
  ],
  [
    'Waterfall',
    (target) => (
      <Waterfall
        {...said}
        target={target}
        axisLabel="Wh/km"
        measured={{ label: 'Measured', value: 200, text: '200', u: 1 }}
        normalised={{ label: 'Reference', value: 190, text: '190', u: 2 }}
        steps={[{ key: 'w', label: 'Wind', from: 200, to: 190, u: 1, text: '−10 ± 1', totalText: '190' }]}
      />
    ),
  ],
  [
    'BudgetBars',
    (target) => (
      <BudgetBars
        {...said}
        target={target}
        bars={[
          { key: 'w', label: 'Wind', share: 0.7, text: '70 %' },
          { key: 'e', label: 'Energy', share: 0.3, text: '30 %' },
        ]}
      />
    ),
  ],
  [
    'PairsPlot',
    (target) => (
      <PairsPlot
        {...said}
        target={target}
        firstLabel="std"
        secondLabel="low"
        axisLabel="Wh/km"
        pairs={[{ key: '1', label: 'May', first: 190, second: 185, text: '−5' }]}
      />
    ),
  ],
  [
    'IntervalFigure',
    (target) => <IntervalFigure {...said} target={target} rows={intervalRows} axisLabel="Wh/km" />,
  ],
  [
    'ScatterBand',
    (target) => (
      <ScatterBand
        {...said}
        target={target}
        xLabel="km/h"
        yLabel="Wh/km"
        points={[
          { key: '1', x: 100, y: 170 },
          { key: '2', x: 120, y: 205, hollow: true, label: 'left out' },
        ]}
        line={[
          { x: 90, y: 150 },
          { x: 130, y: 230 },
        ]}
        band={[
          { x: 90, low: 145, high: 155 },
          { x: 130, low: 220, high: 240 },
        ]}
        reach={[100, 120]}
      />
    ),
  ],
  [
    'ProfilePlot',
    (target) => (
      <ProfilePlot
        {...said}
        target={target}
        distanceLabel="km"
        markers={[{ distance: 0, label: 'start' }]}
        offCruise={[{ from: 0, to: 2 }]}
        panels={[
          {
            key: 'v',
            label: 'km/h',
            band: { low: 107, high: 113 },
            points: [
              { distance: 0, value: 0 },
              { distance: 2, value: 110 },
              { distance: 10, value: 110 },
            ],
          },
          {
            key: 'h',
            label: 'm',
            filled: true,
            points: [
              { distance: 0, value: 5 },
              { distance: 10, value: 50 },
            ],
          },
        ]}
      />
    ),
  ],
  [
    'HistogramStrip',
    (target) => (
      <HistogramStrip
        {...said}
        target={target}
        axisLabel="Wh/km"
        othersLabel="others"
        own={{ value: 200, label: 'this run' }}
        prediction={{ low: 180, high: 195, label: 'expected' }}
        others={[185, 186, 190, 190.1]}
      />
    ),
  ],
  [
    'BearingRose',
    (target) => (
      <BearingRose
        {...said}
        target={target}
        label="share"
        sectorWidthDeg={45}
        sectors={[
          { bearingDeg: 0, share: 0.5 },
          { bearingDeg: 90, share: 0.5 },
        ]}
        wind={{ fromDeg: 270, text: '4 m/s' }}
      />
    ),
  ],
  [
    'RouteMap',
    (target) => (
      <RouteMap
        {...said}
        target={target}
        legs={[
          { key: 'o', label: 'out', points: route },
          { key: 'r', label: 'back', points: [...route].reverse() },
        ]}
        places={[{ eastM: 0, northM: 0, kind: 'start', label: 'Start' }]}
      />
    ),
  ],
];

const images = (page: Element) => all(page, 'svg').filter((svg) => svg.attributes.role === 'img');

describe.each(figures)('%s', (_, figure) => {
  it('is drawn for wide and for narrow, each with a name and a description', () => {
    const page = render(figure('page'));
    expect(images(page)).toHaveLength(2);
    for (const image of images(page)) {
      expect(referenced(page, image, 'aria-labelledby')).toEqual(['What it is', 'What it shows']);
    }
    const ids = images(page).map((image) => image.attributes['aria-labelledby']);
    expect(new Set(ids).size).toBe(2);
  });

  it('places every mark by a number, inside the drawing', () => {
    for (const image of images(render(figure('page')))) {
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

  it('can be saved as a file of its own', async () => {
    const file = await figureFile(figure('file'), 'dark');
    expect(file).toMatch(/^<svg[^>]* xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(file).not.toMatch(/var\(--/);
    // The same on every call, so that a published file can be checked by its sum.
    expect(file).toContain('aria-labelledby="figure-title figure-desc"');
    expect(await figureFile(figure('file'), 'dark')).toBe(file);
  });
});

describe('positions', () => {
  const narrow = (figure: ReactElement) => {
    const [first] = images(render(figure));
    if (!first) throw new Error('nothing drawn');
    return first;
  };

  it('of a forest plot lie in order on one axis, the estimate midway in a symmetric interval', () => {
    const image = narrow(
      <ForestPlot
        {...said}
        axisLabel="%"
        domain={[-10, 10]}
        rows={[{ key: 'a', label: 'A', estimate: 5, simultaneous: [0, 10], text: '5' }]}
      />,
    );
    const dot = all(image, 'g').filter((g) =>
      g.children.some((c) => typeof c !== 'string' && c.name === 'circle'),
    );
    // Strip of the narrow drawing: 8 … 350, so 5 on −10 … 10 lies at 8 + 0.75 · 342.
    expect(dot.map((g) => g.attributes.transform?.split(' ')[0])).toEqual(['translate(264.5']);
  });

  it('of an interval narrower than its dot still stand out over and under it', () => {
    const image = narrow(
      <ForestPlot
        {...said}
        axisLabel="%"
        domain={[-10, 10]}
        rows={[
          { key: 'a', label: 'A', estimate: 5, pointwise: [5, 5], simultaneous: [4.999, 5.001], text: '5' },
        ]}
      />,
    );
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
    const image = narrow(
      <ForestPlot
        {...said}
        axisLabel="%"
        domain={[-2, 2]}
        rows={[{ key: 'a', label: 'A', estimate: 1, simultaneous: [-1, 9], text: '1' }]}
      />,
    );
    expect(all(image, 'path').some((path) => path.attributes.d?.startsWith('M0 0l-7'))).toBe(true);
  });

  it('of a step bar run from its start to its end', () => {
    const image = narrow(
      <Waterfall
        {...said}
        axisLabel="Wh/km"
        domain={[180, 200]}
        measured={{ label: 'M', value: 200, text: '200' }}
        normalised={{ label: 'N', value: 190, text: '190' }}
        steps={[{ key: 's', label: 'S', from: 200, to: 190, text: '−10' }]}
      />,
    );
    const bar = only(image, 'rect').attributes;
    expect(Number(bar.x)).toBeCloseTo(8 + 342 / 2, 6);
    expect(Number(bar.width)).toBeCloseTo(342 / 2, 6);
  });

  it('of a budget bar go with the share', () => {
    const bars = all(
      narrow(
        <BudgetBars
          {...said}
          bars={[
            { key: 'a', label: 'A', share: 0.6, text: '' },
            { key: 'b', label: 'B', share: 0.2, text: '' },
          ]}
        />,
      ),
      'rect',
    );
    expect(Number(bars[0]?.attributes.width) / Number(bars[1]?.attributes.width)).toBeCloseTo(3, 6);
  });

  it('on the map keep the shape: equal metres, equal lengths, north up', () => {
    const square = [
      { eastM: 0, northM: 0 },
      { eastM: 1000, northM: 1000 },
    ];
    const image = narrow(
      <RouteMap {...said} legs={[{ key: 'o', label: 'out', points: square }]} places={[]} />,
    );
    const leg = all(image, 'path')[0]?.attributes.d ?? '';
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = (leg.match(/-?[\d.]+/g) ?? []).map(Number);
    expect(x2 - x1).toBeCloseTo(y1 - y2, 1); // paths are written to a tenth
    expect(y2).toBeLessThan(y1);
  });

  it('of rose petals go with the root of the share, so that areas can be compared', () => {
    const image = narrow(
      <BearingRose
        {...said}
        label=""
        sectorWidthDeg={20}
        sectors={[
          { bearingDeg: 0, share: 0.8 },
          { bearingDeg: 90, share: 0.2 },
        ]}
      />,
    );
    const radii = all(image, 'path')
      .flatMap((path) => /A([\d.]+) /.exec(path.attributes.d ?? '')?.[1] ?? [])
      .map(Number);
    expect((radii[0] ?? 0) / (radii[1] ?? 1)).toBeCloseTo(2, 2);
  });

  it('show one dot for every other run', () => {
    const others = [1, 1, 1, 2, 3, 3.001];
    const image = narrow(
      <HistogramStrip
        {...said}
        axisLabel=""
        othersLabel="o"
        own={{ value: 2, label: 'me' }}
        others={others}
      />,
    );
    const places = all(image, 'circle').map((c) => `${c.attributes.cx} ${c.attributes.cy}`);
    expect(new Set(places).size).toBe(others.length);
  });
});

describe('IntervalPlot', () => {
  const page = render(
    <IntervalPlot label="Setups by consumption" rows={intervalRows} unit="Wh/km" domain={[100, 200]} />,
  );

  it('is a named ordered list whose rows read as text', () => {
    const list = only(page, 'ol');
    expect(list.attributes['aria-label']).toBe('Setups by consumption');
    expect(textOf(all(list, 'li')[0] ?? list)).toBe('Low150.0 Wh/km 95 % interval 140.0 to 160.04 runs');
    expect(all(list, 'a').map((a) => a.attributes.href)).toEqual(['/s/a']);
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

describe('FigureWithTable', () => {
  const page = render(
    <FigureWithTable
      caption="Lower by 3 %."
      tableCaption="Differences"
      table={{
        columns: [{ header: 'Setup' }, { header: 'Difference', unit: '%' }],
        rows: [
          ['Low', '−3.0'],
          ['Eco', '−0.4'],
        ],
      }}
    >
      <p />
    </FigureWithTable>,
  );

  it('has a caption and a table twin that opens without scripts', () => {
    expect(textOf(only(page, 'figcaption'))).toBe('Lower by 3 %.');
    const twin = only(page, 'details');
    expect(textOf(only(twin, 'summary'))).toBe('The numbers as a table');
    expect(textOf(only(twin, 'caption'))).toBe('Differences');
    expect(all(twin, 'th').map((th) => [th.attributes.scope, textOf(th)])).toEqual([
      ['col', 'Setup'],
      ['col', 'Difference %'],
      ['row', 'Low'],
      ['row', 'Eco'],
    ]);
    expect(all(twin, 'td').map(textOf)).toEqual(['−3.0', '−0.4']);
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
