import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  promisedDifferenceSentence,
  promiseSentence,
  type RangePromise,
  rangePromise,
  type ShownRangeRun,
} from '@/lib/answers/shownRange';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const run = (rangeStartM: number, changes: Partial<ShownRangeRun> = {}): ShownRangeRun => ({
  rangeStartM,
  chargeStart: 0.8,
  chargeEnd: 0.5,
  distanceM: 100_000,
  ...changes,
});

function promiseOf(runs: readonly ShownRangeRun[]): RangePromise {
  const promise = rangePromise(runs);
  if (promise === undefined) throw new Error('too few runs');
  return promise;
}

describe('the range that displays promised', () => {
  it('is per whole charge, beside what the same run gave', () => {
    // By hand: 320 km at 80 % is 400 km a charge; 100 km for 30 % is 333.3 km a charge: 400/333.3 = 1.2.
    const { promised, overGiven, runs } = promiseOf([run(320_000), run(320_000), run(320_000)]);
    expect(Math.exp(promised.value)).toBeCloseTo(400_000, 6);
    expect(Math.exp(overGiven.value)).toBeCloseTo(1.2, 12);
    expect([runs, promised.u, overGiven.u]).toEqual([3, 0, 0]);
  });

  it('has the standard uncertainty of a mean: s/√n', () => {
    // ln 0.9, ln 1, ln 1.1: s = 0.10037 by hand (numpy: std(log([.9,1,1.1]), ddof=1) = 0.100371)
    const { promised } = promiseOf([run(288_000), run(320_000), run(352_000)]);
    expect(promised.u).toBeCloseTo(0.100371 / Math.sqrt(3), 5);
  });

  it('is not said of two runs, nor of runs that hardly used any charge', () => {
    expect(rangePromise([run(320_000), run(320_000)])).toBeUndefined();
    const short = run(320_000, { chargeEnd: 0.75, distanceM: 15_000 });
    expect(rangePromise([run(320_000), run(320_000), short])).toBeUndefined();
  });

  it('is the same in whatever order the runs come, and grows with what was shown', () => {
    const runs = fc.array(
      fc.integer({ min: 100_000, max: 600_000 }).map((metres) => run(metres)),
      { minLength: 3, maxLength: 12 },
    );
    fc.assert(
      fc.property(runs, (some) => {
        const [there, back] = [promiseOf(some), promiseOf([...some].reverse())];
        expect(back.promised.value).toBeCloseTo(there.promised.value, 10);
        const more = promiseOf(some.map((one) => ({ ...one, rangeStartM: one.rangeStartM * 1.1 })));
        expect(more.promised.value - there.promised.value).toBeCloseTo(Math.log(1.1), 10);
      }),
    );
  });
});

describe('its sentences', () => {
  const plain = (text: string) => text.replaceAll(/[\u00A0\u202F]/g, ' ');
  const promise = (value: number, u: number, runs = 6): RangePromise => ({
    runs,
    promised: { value: Math.log(value), u },
    overGiven: { value: Math.log(value), u },
  });

  it('say how much more or less was promised than given', () => {
    expect(plain(promiseSentence(promise(1.12, 0.03), DEFAULT_PREFERENCES))).toBe(
      'At the start the display promised 12 ± 3 % more range than the 6 runs then gave.',
    );
    expect(plain(promiseSentence(promise(0.9, 0.04), DEFAULT_PREFERENCES))).toBe(
      'At the start the display promised 10 ± 4 % less range than the 6 runs then gave.',
    );
  });

  it('hold the promise of two setups against the runs, as range: 5 % less energy is 5.3 % more range', () => {
    const both = { setup: promise(1.12, 0.03), baseline: promise(1, 0.04, 5) };
    const sentence = promisedDifferenceSentence(both, { percent: -5, ends: [-8, -2] }, DEFAULT_PREFERENCES);
    // 1/0.95 = 1.0526; 1/0.98 = 1.0204; 1/0.92 = 1.0870
    expect(plain(sentence)).toBe(
      'The display promised 12 ± 6 % more range (6 and 5 runs); the runs gave 5.3 % more (+2.0 to +8.7).',
    );
    const without = promisedDifferenceSentence(both, { percent: 4, ends: null }, DEFAULT_PREFERENCES);
    expect(plain(without)).toContain('the runs gave 3.8 % less.');
  });
});
