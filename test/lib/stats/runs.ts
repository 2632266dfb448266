import fc from 'fast-check';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import type { Observation } from '@/lib/stats/structure';

export interface SimulatedShape {
  cars: number;
  sessions: number;
  /** Loops that each car drives by turns; one without it. */
  loops?: number;
  setups: number;
  runs: number;
  sdCar: number;
  /** Of a car on one loop, where there are several. */
  sdCarLoop?: number;
  sdSession: number;
  sdRun: number;
  /** Known standard uncertainty of each run; 0 for none. */
  u: number;
}

/** Seeded runs from the model itself: every session drives the setups in turn from a shifting start. */
export function simulateRuns(shape: SimulatedShape, seed: number): Observation[] {
  const random = createRandom(seed);
  const runs: Observation[] = [];
  for (let t = 0; t < shape.cars; t++) {
    const car = shape.sdCar * drawNormal(random);
    const loops = shape.loops ?? 1;
    const onLoop = Array.from({ length: loops }, () =>
      loops > 1 ? (shape.sdCarLoop ?? 0) * drawNormal(random) : 0,
    );
    for (let s = 0; s < shape.sessions; s++) {
      const session = shape.sdSession * drawNormal(random);
      for (let r = 0; r < shape.runs; r++) {
        const setup = (t + s + r) % shape.setups;
        const u = shape.u * (0.5 + random.next());
        runs.push({
          setup: `setup ${setup}`,
          car: `car ${t}`,
          ...(loops > 1 ? { loop: `loop ${s % loops}` } : {}),
          session: `day ${s}`,
          z:
            5 +
            0.02 * setup +
            car +
            (onLoop[s % loops] as number) +
            session +
            Math.hypot(shape.sdRun, u) * drawNormal(random),
          u,
        });
      }
    }
  }
  return runs;
}

/** Small unbalanced layouts for property tests: any car, loop, session and setup may be met once or many times. */
export const arbitraryRuns = (withU: boolean): fc.Arbitrary<Observation[]> =>
  fc.array(
    fc.record({
      setup: fc.constantFrom('a', 'b', 'c'),
      car: fc.constantFrom('k', 'l', 'm', 'n'),
      loop: fc.constantFrom('coast', 'forest'),
      session: fc.constantFrom('1', '2', '3'),
      z: fc.double({ min: 4.5, max: 5.5, noNaN: true }),
      u: withU ? fc.double({ min: 0.005, max: 0.05, noNaN: true }) : fc.constant(0),
    }),
    { minLength: 12, maxLength: 26 },
  );
