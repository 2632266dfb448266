import type { Problem } from './problem';
import type { Structure } from './structure';

/** A problem with more cells than this is first searched on a sample of its cars; own choice. */
const LARGE = 20_000;
/** Every so manieth car is in the sample. */
const EVERY = 16;

/**
 * Every sixteenth car of a large problem with all of its runs, in the same unit: its optimum lies near that of the whole,
 * so the search over all runs starts where few steps are left. Null where the problem is small. The cars are taken in
 * the order of the layout, so the same runs give the same sample; where the sample lacks a setup its criterion cannot
 * be had, and the search starts cold.
 */
export function sampleOfCars(problem: Problem): Problem | null {
  const s = problem.structure;
  if (s.cells <= LARGE) return null;
  const cars = Array.from({ length: Math.ceil(s.cars / EVERY) }, (_, i) => i * EVERY);
  const loopOfCar = picked(s.loopOfCar, cars);
  const sessionOfLoop = picked(s.sessionOfLoop, loopOfCar.items);
  const cellOfSession = picked(s.cellOfSession, sessionOfLoop.items);
  const support = picked(s.supportOfCar, cars);
  const cells = cellOfSession.items;
  const ofCells = (values: Float64Array) => Float64Array.from(cells, (i) => values[i] as number);
  const count = ofCells(s.count);
  const structure: Structure = {
    ...s,
    runs: count.reduce((sum, n) => sum + n, 0),
    cars: cars.length,
    loops: loopOfCar.items.length,
    sessions: sessionOfLoop.items.length,
    cells: cells.length,
    loopOfCar: loopOfCar.starts,
    sessionOfLoop: sessionOfLoop.starts,
    cellOfSession: cellOfSession.starts,
    supportOfCar: support.starts,
    support: Int32Array.from(support.items, (i) => s.support[i] as number),
    cellSetup: Int32Array.from(cells, (i) => s.cellSetup[i] as number),
    cellLocal: Int32Array.from(cells, (i) => s.cellLocal[i] as number),
    count,
    mean: ofCells(s.mean),
    squares: ofCells(s.squares),
    knownVariance: ofCells(s.knownVariance),
  };
  return {
    ...problem,
    structure,
    z: ofCells(problem.z),
    squares: ofCells(problem.squares),
    knownVariance: ofCells(problem.knownVariance),
  };
}

/** The items below some owners, and where each owner's begin among them. */
function picked(starts: Int32Array, owners: readonly number[]): { starts: Int32Array; items: number[] } {
  const items: number[] = [];
  const begins = new Int32Array(owners.length + 1);
  owners.forEach((owner, i) => {
    for (let item = starts[owner] as number; item < (starts[owner + 1] as number); item++) items.push(item);
    begins[i + 1] = items.length;
  });
  return { starts: begins, items };
}
