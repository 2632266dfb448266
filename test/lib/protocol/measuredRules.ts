import type { RunFacts } from '@/lib/protocol/facts';
import type { Outcome } from '@/lib/protocol/rule';
import { toCanonical } from '@/lib/units/unit';
import { exactReading, GOOD_RUN, withLoop, withReading, withRecord } from './exampleFacts';

/** A rule decided by one number, with a run that has this number. */
export interface MeasuredCase {
  ruleId: string;
  /** Facts with the deciding number, in the unit of the examples. */
  run(value: number): RunFacts;
  /** At, just inside and just outside each limit of method A5, as written there or in version 1.0. */
  examples: readonly (readonly [value: number, outcome: Outcome])[];
  /** Values for property tests. */
  span: readonly [number, number];
  /** Of a rule that version 1.0 does not have yet. */
  isNew?: true;
  /** Where the outcome is mildest: the farther from it on either side, the graver. */
  best: number;
}

const km = (value: number) => toCanonical(value, 'km');
const kmh = (value: number) => toCanonical(value, 'km/h');

const normalisedWith = (change: { adjustmentRelative?: number; scale?: number }): RunFacts => ({
  ...GOOD_RUN,
  normalisation: { ok: true, adjustmentRelative: 0, scale: 1, ...change },
});

export const MEASURED_CASES: readonly MeasuredCase[] = [
  {
    ruleId: 'loop-closure-distance',
    run: (closureDistanceM) => withLoop({ closureDistanceM }),
    examples: [
      [0, 'pass'],
      [199.9, 'pass'],
      [200, 'pass'],
      [200.1, 'caution'],
      [500, 'caution'],
      [500.1, 'fail'],
    ],
    span: [0, 2000],
    best: 0,
  },
  {
    ruleId: 'loop-closure-height',
    run: (closureHeightM) => withLoop({ closureHeightM }),
    examples: [
      [4.99, 'pass'],
      [5, 'pass'],
      [-5, 'pass'],
      [5.01, 'caution'],
      [-5.01, 'caution'],
      [10, 'caution'],
      [10.01, 'fail'],
      [-10.01, 'fail'],
    ],
    span: [-40, 40],
    best: 0,
  },
  {
    ruleId: 'legs-share-route',
    run: (percent) => withLoop({ sharedRouteShare: percent / 100 }),
    examples: [
      [100, 'pass'],
      [95.01, 'pass'],
      [95, 'pass'],
      [94.99, 'caution'],
      [90, 'caution'],
      [89.99, 'fail'],
    ],
    span: [0, 100],
    best: 100,
  },
  {
    ruleId: 'off-cruise-share',
    run: (percent) => withLoop({ offCruiseShare: percent / 100 }),
    examples: [
      [7.99, 'pass'],
      [8, 'pass'],
      [8.01, 'caution'],
      [15, 'caution'],
      [15.01, 'fail'],
    ],
    span: [0, 100],
    best: 0,
  },
  {
    // loop 106.9 km ± 0.1 km (standard), two of them allowed for: 106.7 to 107.1 km is agreement
    ruleId: 'distance-matches-loop',
    run: (distanceKm) => withReading('tripDistance', exactReading('tripDistance', km(distanceKm), 'km')),
    examples: [
      [106.9, 'pass'],
      [107.1 + 0.02 * 106.9, 'pass'],
      [106.7 - 0.02 * 106.9, 'pass'],
      [107.1 + 0.0201 * 106.9, 'caution'],
      [106.7 - 0.0201 * 106.9, 'caution'],
      [107.1 + 0.05 * 106.9, 'caution'],
      [107.1 + 0.0501 * 106.9, 'fail'],
      [106.7 - 0.0501 * 106.9, 'fail'],
    ],
    span: [50, 200],
    best: 106.9,
  },
  {
    ruleId: 'posted-limit',
    run: (limitKmh) => withLoop({ postedLimitMps: kmh(limitKmh) }),
    examples: [
      [110.1, 'pass'],
      [110, 'pass'],
      [109.9, 'fail'],
      [90, 'fail'],
    ],
    span: [50, 150],
    best: 150,
  },
  {
    ruleId: 'mean-cruise-speed',
    run: (speedKmh) => withReading('trueSpeed', exactReading('trueSpeed', kmh(speedKmh), 'km/h')),
    examples: [
      [110, 'pass'],
      [111.49, 'pass'],
      [111.5, 'pass'],
      [108.5, 'pass'],
      [111.51, 'caution'],
      [108.49, 'caution'],
      [113, 'caution'],
      [107, 'caution'],
      [113.01, 'fail'],
      [106.99, 'fail'],
    ],
    span: [90, 130],
    best: 110,
  },
  {
    ruleId: 'cruise-speed-band',
    run: (percent) => withReading('withinBandShare', exactReading('withinBandShare', percent / 100, '%')),
    examples: [
      [100, 'pass'],
      [90.01, 'pass'],
      [90, 'pass'],
      [89.99, 'caution'],
      [80, 'caution'],
      [79.99, 'fail'],
    ],
    span: [0, 100],
    best: 100,
  },
  {
    ruleId: 'cold-tyre-pressures',
    run: (bar) => withReading('pressureFront', exactReading('pressureFront', toCanonical(bar, 'bar'), 'bar')),
    // placard 2.5 bar: 5 % is 0.125 bar
    examples: [
      [2.5, 'pass'],
      [2.625, 'pass'],
      [2.375, 'pass'],
      [2.626, 'caution'],
      [2.374, 'caution'],
      [2.75, 'caution'],
      [2.25, 'caution'],
      [2.751, 'fail'],
      [2.249, 'fail'],
    ],
    span: [1, 4],
    best: 2.5,
  },
  {
    ruleId: 'warm-up',
    run: (distanceKm) => withReading('warmUpDistance', exactReading('warmUpDistance', km(distanceKm), 'km')),
    examples: [
      [10.1, 'pass'],
      [10, 'pass'],
      [9.9, 'caution'],
      [5, 'caution'],
      [4.9, 'fail'],
      [0, 'fail'],
    ],
    span: [0, 100],
    best: 100,
  },
  {
    ruleId: 'start-charge',
    run: (percent) => withReading('chargeStart', exactReading('chargeStart', percent / 100, '%')),
    examples: [
      [80, 'pass'],
      [82, 'pass'],
      [78, 'pass'],
      [82.1, 'caution'],
      [77.9, 'caution'],
      [90, 'caution'],
      [70, 'caution'],
      [90.1, 'fail'],
      [69.9, 'fail'],
    ],
    span: [0, 100],
    best: 80,
  },
  {
    ruleId: 'end-charge',
    run: (percent) => withReading('chargeEnd', exactReading('chargeEnd', percent / 100, '%')),
    examples: [
      [10.1, 'pass'],
      [10, 'pass'],
      [9.9, 'caution'],
      [5, 'caution'],
      [4.9, 'fail'],
      [0, 'fail'],
    ],
    span: [0, 100],
    best: 100,
  },
  {
    ruleId: 'energy-resolution',
    run: (percent) => ({ ...GOOD_RUN, energy: { relativeResolutionUncertainty: percent / 100 } }),
    examples: [
      [0.99, 'pass'],
      [1, 'pass'],
      [1.01, 'caution'],
      [2, 'caution'],
      [2.01, 'fail'],
    ],
    span: [0, 20],
    best: 0,
  },
  {
    ruleId: 'air-temperature',
    run: (celsius) => withReading('airTemperature', exactReading('airTemperature', celsius, 'degC')),
    examples: [
      [20, 'pass'],
      [5, 'pass'],
      [35, 'pass'],
      [4.9, 'caution'],
      [35.1, 'caution'],
      [-20, 'caution'],
      [45, 'caution'],
      [-20.1, 'fail'],
      [45.1, 'fail'],
    ],
    span: [-50, 60],
    best: 20,
  },
  {
    ruleId: 'wind',
    run: (windMps) => withReading('windSpeed', exactReading('windSpeed', windMps, 'm/s')),
    examples: [
      [0, 'pass'],
      [4.9, 'pass'],
      [5, 'pass'],
      [kmh(18), 'pass'],
      [5.1, 'caution'],
      [8, 'caution'],
      [8.1, 'fail'],
    ],
    span: [0, 40],
    best: 0,
  },
  {
    ruleId: 'wind-direction',
    run: (windMps) =>
      withReading(
        'windSpeed',
        exactReading('windSpeed', windMps, 'm/s'),
        withRecord({ windDirectionKnown: 'no' }),
      ),
    examples: [
      [0, 'pass'],
      [1.99, 'pass'],
      [2, 'pass'],
      [2.01, 'caution'],
      [3, 'caution'],
      [3.01, 'fail'],
    ],
    span: [0, 12],
    best: 0,
    isNew: true,
  },
  {
    // version 2.0: a station codes gusts from 5 m/s over the mean on (WMO-No. 306, FM 15, from memory)
    ruleId: 'gusts',
    isNew: true,
    run: (overMeanMps) =>
      withReading(
        'windGust',
        exactReading('windGust', 3 + overMeanMps, 'm/s'),
        withReading('windSpeed', exactReading('windSpeed', 3, 'm/s')),
      ),
    examples: [
      [0, 'pass'],
      [4.99, 'pass'],
      [5, 'pass'],
      [kmh(18), 'pass'],
      [5.01, 'caution'],
      [toCanonical(10, 'kn'), 'caution'],
      [30, 'caution'],
    ],
    span: [0, 40],
    best: 0,
  },
  {
    // report 1.0 m/s, standard uncertainty 0.5 m/s: two of them are 1 m/s
    ruleId: 'leg-wind',
    run: (impliedHeadwindMps) => ({
      ...GOOD_RUN,
      normalisation: {
        ok: true,
        adjustmentRelative: 0,
        scale: 1,
        windFinding: { impliedHeadwindMps, reportedHeadwindMps: 1, standardUncertaintyMps: 0.5 },
      },
    }),
    examples: [
      [1, 'pass'],
      [2, 'pass'],
      [0, 'pass'],
      [2.01, 'caution'],
      [-0.01, 'caution'],
      [20, 'caution'],
    ],
    span: [-20, 20],
    best: 1,
  },
  {
    ruleId: 'station-distance',
    run: (distanceKm) =>
      withReading('stationDistance', exactReading('stationDistance', km(distanceKm), 'km')),
    examples: [
      [29.9, 'pass'],
      [30, 'pass'],
      [30.1, 'caution'],
      [80, 'caution'],
      [80.1, 'fail'],
    ],
    span: [0, 500],
    best: 0,
  },
  {
    // the clock stands at 18:00 UTC; a run of 62 min that began at 16:58 + 5 min ends 5 min ahead of it
    ruleId: 'date-not-ahead',
    run: (minutes) =>
      withRecord({
        startedAt: new Date(Date.parse('2031-05-04T16:58:00Z') + minutes * 60_000).toISOString(),
      }),
    examples: [
      [-60, 'pass'],
      [0, 'pass'],
      [4.9, 'pass'],
      [5, 'pass'],
      [5.1, 'fail'],
      [525_600, 'fail'],
    ],
    span: [-1000, 1000],
    best: -1000,
  },
  {
    ruleId: 'adjustment-total',
    run: (percent) => normalisedWith({ adjustmentRelative: percent / 100 }),
    examples: [
      [0, 'pass'],
      [15, 'pass'],
      [-15, 'pass'],
      [15.1, 'caution'],
      [-15.1, 'caution'],
      [30, 'caution'],
      [-30, 'caution'],
      [30.1, 'fail'],
      [-30.1, 'fail'],
    ],
    span: [-80, 80],
    best: 0,
  },
  {
    ruleId: 'road-load-scale',
    run: (scale) => normalisedWith({ scale }),
    examples: [
      [1, 'pass'],
      [0.75, 'pass'],
      [1.35, 'pass'],
      [0.749, 'caution'],
      [1.351, 'caution'],
      [0.5, 'caution'],
      [2, 'caution'],
      [0.499, 'fail'],
      [2.001, 'fail'],
    ],
    span: [0.05, 4],
    best: 1,
  },
];
