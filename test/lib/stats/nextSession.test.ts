import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Variances } from '@/lib/stats/accumulate';
import {
  addedInformation,
  type CarSoFar,
  type FittedCovariance,
  type SessionWeights,
  varianceWith,
} from '@/lib/stats/nextSession';
import { layoutPrecision } from '@/lib/stats/power';
import type { Observation } from '@/lib/stats/structure';
import { denseFit } from './dense';

const COMPONENTS: Variances = { car: 2.1e-4, carLoop: 0.8e-4, session: 1.4e-4, residual: 0.7e-4 };

function run(setup: string, car: string, loop: string, session: string, u = 0.005): Observation {
  return { setup, car, loop, session: `${car} ${loop} ${session}`, z: 0, u };
}

/** Two cars on two loops, days of unequal make. */
const DRIVEN: readonly Observation[] = [
  run('A', 'one', 'coast', '1'),
  run('B', 'one', 'coast', '1', 0.008),
  run('B', 'one', 'coast', '1'),
  run('A', 'one', 'coast', '2'),
  run('C', 'one', 'forest', '3', 0.01),
  run('A', 'one', 'forest', '3'),
  run('A', 'two', 'coast', '4', 0.006),
  run('C', 'two', 'coast', '4'),
  run('D', 'two', 'forest', '5'),
  run('B', 'two', 'forest', '6'),
];

function weightsOf(runs: readonly Observation[], v: Variances): SessionWeights {
  const weights = new Map<string, number>();
  for (const { setup, u } of runs) weights.set(setup, (weights.get(setup) ?? 0) + 1 / (v.residual + u * u));
  return weights;
}

function soFar(runs: readonly Observation[], car: string, v: Variances): CarSoFar {
  const loops = new Map<string, SessionWeights[]>();
  const own = runs.filter((one) => one.car === car);
  for (const session of new Set(own.map((one) => one.session))) {
    const of = own.filter((one) => one.session === session);
    const loop = of[0]?.loop ?? '';
    loops.set(loop, [...(loops.get(loop) ?? []), weightsOf(of, v)]);
  }
  return loops;
}

function covarianceOf(runs: readonly Observation[], v: Variances): FittedCovariance {
  const { setups, covariance } = denseFit(runs, v);
  return { place: new Map(setups.map((setup, i) => [setup, i])), covariance };
}

/** By hand from the model with the N × N matrix of all runs, the further ones among them. */
function varianceByHand(runs: readonly Observation[], v: Variances, a: string, b: string): number {
  const { place, covariance } = covarianceOf(runs, v);
  const [i, j] = [place.get(a) as number, place.get(b) as number];
  const at = (row: number, column: number) => covariance[row]?.[column] as number;
  return at(i, i) + at(j, j) - 2 * at(i, j);
}

function varianceByUpdate(further: readonly Observation[], v: Variances, a: string, b: string) {
  const { car, loop = '' } = further[0] as Observation;
  const added = addedInformation(soFar(DRIVEN, car, v), { loop, session: weightsOf(further, v) }, v);
  return varianceWith(covarianceOf(DRIVEN, v), { a, b }, added);
}

describe('a further session', () => {
  it.each([
    ['A B B A of a car that knows the loop', ['A', 'B', 'B', 'A'], 'one', 'coast'],
    ['A B of a car on a loop that is new to it', ['A', 'B'], 'two', 'plateau'],
    ['A B of a car that is new', ['A', 'B'], 'three', 'coast'],
    ['a single run', ['B'], 'two', 'coast'],
    ['setups of neither side', ['C', 'D', 'C'], 'one', 'forest'],
  ] as const)('does to a difference what fitting its runs along would: %s', (_, setups, car, loop) => {
    const further = setups.map((setup) => run(setup, car, loop, 'next', 0.007));
    for (const [a, b] of [
      ['A', 'B'],
      ['C', 'B'],
      ['D', 'A'],
    ] as const) {
      const { before, after } = varianceByUpdate(further, COMPONENTS, a, b);
      expect(before).toBeCloseTo(varianceByHand(DRIVEN, COMPONENTS, a, b), 15);
      const byHand = varianceByHand([...DRIVEN, ...further], COMPONENTS, a, b);
      expect(Math.abs(after / byHand - 1)).toBeLessThan(1e-10);
    }
  });

  it('does the same where components are 0', () => {
    const v = { ...COMPONENTS, car: 0, carLoop: 0 };
    const further = ['A', 'B'].map((setup) => run(setup, 'one', 'coast', 'next'));
    const byHand = varianceByHand([...DRIVEN, ...further], v, 'A', 'B');
    expect(Math.abs(varianceByUpdate(further, v, 'A', 'B').after / byHand - 1)).toBeLessThan(1e-10);
  });

  it('adds to a pair that was never driven together what a planned session of both is worth', () => {
    // Method B9: 1/s² grows by m k / (2 (v + u²)) where the runs before say nothing of the car.
    const u = 0.005;
    const vague: FittedCovariance = {
      place: new Map([
        ['A', 0],
        ['B', 1],
      ]),
      covariance: [
        [50, 0],
        [0, 50],
      ],
    };
    const session = weightsOf(
      ['A', 'B', 'B', 'A'].map((setup) => run(setup, 'new', 'coast', '1', u)),
      COMPONENTS,
    );
    const { before, after } = varianceWith(
      vague,
      { a: 'A', b: 'B' },
      addedInformation(new Map(), { loop: 'coast', session }, COMPONENTS),
    );
    const layout = { pairing: 'same session', cars: 1, sessions: 1, runs: 2 } as const;
    const planned = layoutPrecision(layout, COMPONENTS, u).variance;
    expect((1 / after - 1 / before) * planned).toBeCloseTo(1, 5);
  });

  it('never makes a difference less sure, and says nothing of a setup without runs', () => {
    const variance = fc.double({ min: 0, max: 1e-3, noNaN: true });
    const setups = fc.array(fc.constantFrom('A', 'B', 'C', 'D'), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        fc.record({ car: variance, carLoop: variance, session: variance }),
        setups,
        fc.constantFrom('one', 'two', 'three'),
        fc.constantFrom('coast', 'forest', 'plateau'),
        (drawn, names, car, loop) => {
          const v = { ...drawn, residual: COMPONENTS.residual };
          const further = names.map((setup) => run(setup, car, loop, 'next'));
          const { before, after } = varianceByUpdate(further, v, 'A', 'B');
          expect(after).toBeGreaterThan(0);
          expect(after).toBeLessThanOrEqual(before * (1 + 1e-9));
        },
      ),
      { numRuns: 40 },
    );
    expect(() => varianceWith(covarianceOf(DRIVEN, COMPONENTS), { a: 'A', b: 'E' }, [])).toThrow(RangeError);
  });
});
