import type { FigureDescription, FigureDrawing } from '@/app/ui/figures/description';
import type { IntervalRow } from '@/app/ui/figures/intervalRow';

export const intervalRows: IntervalRow[] = [
  {
    key: 'a',
    label: 'Low',
    href: '/s/a',
    estimate: 150,
    low: 140,
    high: 160,
    outerLow: 135,
    outerHigh: 165,
    against: { text: 'settled', more: ', against the car as delivered', href: '/compare?setup=b&setup=a' },
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

/** One drawing of every kind. */
export const drawings: { [K in FigureDrawing['kind']]: Extract<FigureDrawing, { kind: K }> } = {
  bars: {
    kind: 'bars',
    counts: [12, 9, 14, 11, 10],
    level: { value: 11.2, low: 4, high: 18, label: 'all parts alike', bandLabel: 'where chance puts most' },
    from: 0,
    to: 100,
    axisLabel: 'part of the prediction, %',
    countLabel: 'runs',
  },
  ways: {
    kind: 'ways',
    rows: [
      {
        key: 'p',
        label: 'As published',
        estimate: -2.6,
        ends: [-3.6, -1.6],
        text: '−2.6 (−3.6 to −1.6)',
        strong: true,
      },
      {
        key: 'm',
        label: 'As measured, nothing adjusted',
        estimate: -2,
        ends: [-3.1, -0.8],
        text: '−2.0 (−3.1 to −0.8)',
      },
      { key: 'c', label: 'Each car left out in turn', ends: [-2.8, -2.3], text: '−2.8 to −2.3' },
    ],
    axisLabel: 'difference in consumption, %',
  },
  forest: {
    kind: 'forest',
    axisLabel: 'difference, %',
    markLabel: 'this difference alone, 95 %',
    strokesLabel: 'strokes on the thin bar: all of its model at once, 95 %',
    outerLabel: 'all of the ranking at once, 95 %',
    rows: [
      {
        key: 'a',
        label: 'Low',
        estimate: -3,
        pointwise: [-4, -2],
        strokes: [-4.5, -1.5],
        simultaneous: [-5, -1],
        text: '−3 %',
      },
    ],
  },
  waterfall: {
    kind: 'waterfall',
    axisLabel: 'consumption, Wh/km',
    measured: { label: 'Measured', value: 200, text: '200', u: 1 },
    normalised: { label: 'Reference', value: 190, text: '190', u: 2 },
    steps: [{ key: 'w', label: 'Wind', from: 200, to: 190, u: 1, text: '−10 ± 1', totalText: '190' }],
  },
  budget: {
    kind: 'budget',
    axisLabel: 'share of the uncertainty, %',
    bars: [
      { key: 'w', label: 'Wind', share: 0.7, text: '70 %' },
      { key: 'e', label: 'Energy', share: 0.3, text: '30 %' },
    ],
  },
  openBand: {
    kind: 'openBand',
    axisLabel: 'consumption of one run, kWh/100 km',
    bandLabel: 'one run of one car',
    rows: [
      { key: 'a', label: 'As delivered', low: 18.7, high: 20.9, text: '18.7 to 20.9' },
      { key: 'b', label: 'Ride height: low', detail: 'Skerry', low: 18.1, high: 20.2, text: '18.1 to 20.2' },
    ],
  },
  pairs: {
    kind: 'pairs',
    firstLabel: 'std',
    secondLabel: 'low',
    axisLabel: 'consumption, Wh/km',
    pairs: [{ key: '1', label: 'May', first: 190, second: 185, text: '−5' }],
  },
  interval: {
    kind: 'interval',
    label: 'Setups by consumption',
    rows: intervalRows,
    unit: 'Wh/km',
    axisLabel: 'consumption, Wh/km',
    domain: [100, 200],
    bands: [{ from: 0, to: 1 }],
    bandLabel: 'joined by a bar: no two can be told apart',
    outerLabel: 'all comparisons at once, 95 %',
  },
  scatter: {
    kind: 'scatter',
    xLabel: 'steady speed, km/h',
    yLabel: 'consumption, Wh/km',
    points: [
      { key: '1', x: 100, y: 170, row: 0 },
      { key: '2', x: 120, y: 205, hollow: true, label: 'left out', row: 1 },
    ],
    line: [
      { x: 90, y: 150, row: 2 },
      { x: 130, y: 230 },
    ],
    band: [
      { x: 90, low: 145, high: 155 },
      { x: 130, low: 220, high: 240 },
    ],
    reach: [100, 120],
  },
  profile: {
    kind: 'profile',
    distanceLabel: 'distance, km',
    markers: [{ distance: 0, label: 'start' }],
    offCruise: [{ from: 0, to: 2 }],
    tabulated: [0, 10],
    panels: [
      {
        key: 'v',
        label: 'true speed, km/h',
        band: { low: 107, high: 113 },
        points: [
          { distance: 0, value: 0 },
          { distance: 2, value: 110 },
          { distance: 10, value: 110 },
        ],
      },
      {
        key: 'h',
        label: 'height, m',
        filled: true,
        points: [
          { distance: 0, value: 5 },
          { distance: 10, value: 50 },
        ],
      },
    ],
  },
  histogram: {
    kind: 'histogram',
    axisLabel: 'consumption, Wh/km',
    othersLabel: 'others',
    own: { value: 200, label: 'this run', row: 0 },
    prediction: { low: 180, high: 195, label: 'expected' },
    others: [185, 186, 190, 190.1].map((value, index) => ({ value, row: index + 1 })),
  },
  density: {
    kind: 'density',
    bins: [
      { from: 150, to: 160, count: 401 },
      { from: 160, to: 170, count: 802 },
      { from: 170, to: 180, count: 401 },
    ],
    middle: { low: 160, median: 165, high: 170, label: 'middle half' },
    reference: { value: 165, label: 'estimate 165 Wh/km' },
    axisLabel: 'consumption, Wh/km',
    firstRow: 0,
  },
  rose: {
    kind: 'rose',
    label: 'share of the distance',
    sectorWidthDeg: 45,
    sectors: [
      { bearingDeg: 0, share: 0.5, row: 0 },
      { bearingDeg: 90, share: 0.5, row: 1 },
    ],
    wind: { fromDeg: 270, text: '4 m/s' },
  },
  map: {
    kind: 'map',
    legs: [
      { key: 'o', label: 'out', points: route, row: 0 },
      { key: 'r', label: 'back', points: [...route].reverse(), row: 1 },
    ],
    places: [
      { eastM: 0, northM: 0, kind: 'start', label: 'Start' },
      { eastM: 9000, northM: 2000, kind: 'turnaround', label: 'Turnaround at the old lighthouse' },
    ],
  },
  sessions: {
    kind: 'sessions',
    axisLabel: 'consumption, Wh/km',
    estimate: { value: 165, label: 'estimate 165 Wh/km' },
    rows: [
      {
        key: '1',
        label: 'Mira Holm, 2026-05-12',
        detail: 'North causeway',
        ruled: false,
        runs: [
          { number: 1, value: 160, row: 0 },
          { number: 2, value: 163, row: 1 },
        ],
      },
      {
        key: '2',
        label: 'Ivo Brand, 2026-05-13',
        detail: 'North causeway',
        ruled: true,
        runs: [{ number: 3, value: 170, row: 2 }],
      },
    ],
  },
  spread: {
    kind: 'spread',
    axisLabel: 'consumption, Wh/km',
    estimate: { value: 165, label: 'estimate 165 Wh/km' },
    rows: [
      {
        key: '1',
        label: 'Mira Holm, North causeway',
        detail: '3 runs',
        mean: 160,
        believed: 162,
        ends: [160.5, 163.5],
        text: '−1.8 %',
        note: '−3.0 % to −0.6 %',
        strong: true,
      },
      { key: '2', label: '2026-05-12', mean: 161, believed: 162, text: 'day 0.0 %', note: '', strong: false },
    ],
  },
  mandel: {
    kind: 'mandel',
    axisLabel: 'h (no unit)',
    critical: { straggler: 1.1, outlier: 1.2 },
    bothSides: true,
    rows: [
      { key: 'a', label: 'Mira Holm', value: -0.4, text: '−0.400', verdict: 'consistent', row: 0 },
      { key: 'b', label: 'Ivo Brand', value: 1.15, text: '+1.150', verdict: 'straggler', row: 1 },
    ],
  },
};

export function described(drawing: FigureDescription['drawing']): FigureDescription {
  return {
    address: { kind: 'differences', key: 'kmh-110', query: { setup: ['std', 'low'], world: 'demo' } },
    title: 'What it is: “Low” uses 3 % less than “Std”.',
    desc: 'What it shows',
    reading: 'How to read it.',
    counts: '4 runs · 2 cars',
    source: { path: '/compare?class=kmh-110&setup=std&setup=low', asOf: '2026-11-20' },
    isDemo: true,
    mark: 'point',
    drawing,
    table: {
      caption: 'Differences',
      columns: [{ header: 'Setup' }, { header: 'Difference', unit: '%' }],
      rows: [
        [{ text: 'Low', href: '/setups/low' }, '−3.0'],
        ['Eco', '−0.4'],
        ['Std', '0.0'],
        ['Tall', '+1.0'],
        ['Wide', '+2.0'],
      ],
    },
  };
}
