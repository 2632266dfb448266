import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { RunFacts } from '@/lib/protocol/facts';
import { findingOf, GOOD_RUN, outcomeOf } from './exampleFacts';
import { among, around, FULL_RUN, neighbour, readingsOf, startedAfter } from './neighbourhoods';

const copy = neighbour({ readings: readingsOf() });

describe('readings of another run', () => {
  it('fail where all are another tester’s, and are a caution where they are one’s own', () => {
    expect(findingOf('copied-readings', among(neighbour(), copy))).toMatchObject({
      outcome: 'fail',
      numbers: [{ name: 'Same readings as run', value: 12, unit: '' }],
      sentence: expect.stringContaining('All readings are the same as on run 12 of another tester.'),
    });
    expect(outcomeOf('copied-readings', among({ ...copy, isOwn: true }))).toBe('caution');
    expect(outcomeOf('copied-readings', among(neighbour()))).toBe('pass');
  });

  it('are told from seven readings on, and by any one that differs', () => {
    const some = (count: number) => ({
      ...copy,
      readings: Object.fromEntries(
        Object.entries(readingsOf())
          .filter(([quantity]) =>
            [
              'tripDistance',
              'tripEnergy',
              'tripDuration',
              'chargeStart',
              'chargeEnd',
              'airTemperature',
              'windSpeed',
            ].includes(quantity),
          )
          .slice(0, count),
      ),
    });
    expect(outcomeOf('copied-readings', among(some(7)))).toBe('fail');
    expect(outcomeOf('copied-readings', among(some(6)))).toBe('pass');
    const other = readingsOf((value, quantity) => (quantity === 'windSpeed' ? value + 0.1 : value));
    expect(outcomeOf('copied-readings', among({ ...copy, readings: other }))).toBe('pass');
  });

  it.each([
    [0.9, 'caution'],
    [1, 'caution'],
    [1.1, 'pass'],
  ])('that are all within %s of the limit are a %s', (of, outcome) => {
    const near = readingsOf((value) => value / (1 - 0.002 * of * (1 - 1e-9)));
    expect(outcomeOf('nearly-copied-readings', among({ ...copy, readings: near }))).toBe(outcome);
    expect(outcomeOf('nearly-copied-readings', among({ ...copy, readings: near, isOwn: true }))).toBe('pass');
    // the same to the last digit is the other rule's
    expect(outcomeOf('nearly-copied-readings', among(copy))).toBe('pass');
  });
});

describe('two runs at once', () => {
  const durationMin = (FULL_RUN.record.readings.tripDuration?.value ?? 0) / 60;

  it.each([
    [durationMin - 6, 'fail', 'caution'],
    [durationMin - 5, 'pass', 'pass'],
    [durationMin + 30, 'pass', 'pass'],
    [-30, 'fail', 'caution'],
  ])('that begins %s minutes after the other: one car %s, two cars %s', (minutes, ofCar, ofTester) => {
    expect(outcomeOf('one-drive-at-a-time', among(startedAfter(minutes, { isSameCar: true })))).toBe(ofCar);
    expect(outcomeOf('one-drive-at-a-time', among(startedAfter(minutes)))).toBe(ofTester);
    expect(outcomeOf('one-drive-at-a-time', among(startedAfter(minutes, { isOwn: false })))).toBe('pass');
  });

  it('of one car say where it was as well', () => {
    expect(findingOf('one-drive-at-a-time', among(startedAfter(10, { isSameCar: true }))).sentence).toContain(
      'The car, on another loop, was under way on run 12 as well.',
    );
  });
});

describe('numbers that look made up', () => {
  it.each([
    [
      'last-digits',
      (pValue: number, of: number) => around({ lastDigits: { readings: of, pValue } }),
      1e-4,
      50,
    ],
    [
      'spread-of-runs',
      (pValue: number, of: number) => around({ spread: { runs: 9, dof: of, ratio: 0.1, pValue } }),
      1e-3,
      4,
    ],
    [
      'spread-of-setup',
      (pValue: number, of: number) => around({ spreadOfSetup: { runs: 9, dof: of, ratio: 0.1, pValue } }),
      1e-3,
      4,
    ],
    [
      'spread-of-cluster',
      (pValue: number, of: number) => around({ spreadOfCluster: { runs: 9, dof: of, ratio: 0.1, pValue } }),
      1e-3,
      4,
    ],
  ] as const)('%s is a caution below its probability, from enough numbers on', (id, run, limit, enough) => {
    const outcomes = [limit * 0.99, limit, limit * 1.01].map((pValue) => outcomeOf(id, run(pValue, enough)));
    expect(outcomes).toEqual(['caution', 'pass', 'pass']);
    expect(outcomeOf(id, run(limit / 10, enough - 1))).toBe('notChecked');
  });
});

describe('a run that nothing but its form tells of', () => {
  it('is marked and not judged', () => {
    const bare: RunFacts = { ...around({ hasRecording: false }), photoTimes: [] };
    expect(findingOf('independent-trace', bare)).toMatchObject({
      outcome: 'notChecked',
      sentence: expect.stringContaining('Nothing independent of the form'),
    });
    expect(outcomeOf('independent-trace', { ...bare, photoTimes: GOOD_RUN.photoTimes })).toBe('pass');
    expect(outcomeOf('independent-trace', { ...around({}), photoTimes: [] })).toBe('pass');
  });
});

it('without a neighbourhood none of it is checked', () => {
  const { neighbourhood: _none, ...alone } = FULL_RUN;
  for (const id of [
    'copied-readings',
    'nearly-copied-readings',
    'one-drive-at-a-time',
    'last-digits',
    'spread-of-runs',
    'spread-of-setup',
    'spread-of-cluster',
    'independent-trace',
  ])
    expect(outcomeOf(id, alone), id).toBe('notChecked');
});

it('says the same in whatever order the neighbours come', () => {
  const some = fc.record({
    runNumber: fc.integer({ min: 1, max: 40 }),
    isOwn: fc.boolean(),
    isSameCar: fc.boolean(),
    startedAt: fc.constantFrom('2031-05-04T07:00:00Z', '2031-05-04T08:00:00Z', '2030-01-01T08:00:00Z'),
    readings: fc.constantFrom(
      readingsOf(),
      readingsOf((value) => value * 1.001),
      readingsOf((value) => value * 2),
    ),
  });
  fc.assert(
    fc.property(fc.uniqueArray(some, { selector: ({ runNumber }) => runNumber, maxLength: 8 }), (drawn) => {
      const runs = drawn.map((own) => neighbour(own));
      for (const id of ['copied-readings', 'nearly-copied-readings', 'one-drive-at-a-time'])
        expect(findingOf(id, among(...[...runs].reverse()))).toEqual(findingOf(id, among(...runs)));
    }),
  );
});
