import { type Columns, indexNames, orderCells } from './cellOrder';

/**
 * The nested layout of a set of runs: cars hold sessions, sessions hold cells of one setup.
 * Runs of one cell that share the same known uncertainty are merged to (count, mean, sum of squares
 * about the mean), which is sufficient for the model and makes the fit linear in the number of cells.
 */

/** One run as the fit sees it. "Car" here is a car on a loop, the upper random group. */
export interface Observation {
  setup: string;
  car: string;
  session: string;
  /** ln of the normalised consumption, or the plain value on the identity scale. */
  z: number;
  /** Known standard uncertainty of z that is independent between runs. */
  u: number;
}

/** Runs of one setup in one session with one known uncertainty, reduced to what the model needs. */
export interface Cell {
  setup: string;
  car: string;
  session: string;
  u: number;
  n: number;
  mean: number;
  /** Sum of squares about the cell's own mean. */
  squares: number;
}

interface Named {
  setup: string;
  car: string;
  session: string;
}

/** Cells in typed arrays, ordered by car, session and setup; all indices are zero based. */
export interface Structure {
  /** Setup names in sorted order; the order of every vector and matrix of a fit. */
  setups: string[];
  /** Car name → index, and nestedKey(car, session) → session index, both in layout order. */
  carIndex: Map<string, number>;
  sessionIndex: Map<string, number>;
  runs: number;
  cars: number;
  sessions: number;
  cells: number;
  hasKnownVariance: boolean;
  /** Smallest known variance, on the scale of z squared. */
  leastKnownVariance: number;
  /** car → its first session; length cars + 1. */
  sessionOfCar: Int32Array;
  /** session → its first cell; length sessions + 1. */
  cellOfSession: Int32Array;
  /** car → its first entry in `support`; length cars + 1. */
  supportOfCar: Int32Array;
  /** Setups that occur in each car, ascending within the car. */
  support: Int32Array;
  cellSetup: Int32Array;
  /** Position of the cell's setup within its car's support. */
  cellLocal: Int32Array;
  count: Float64Array;
  mean: Float64Array;
  squares: Float64Array;
  knownVariance: Float64Array;
}

/** Joins a car and a session so that equal session names of two cars stay apart. */
export function nestedKey(car: string, session: string): string {
  return `${car}\u0000${session}`;
}

/** Merges (n, mean, squares) of two groups; Chan T. F., Golub G. H., LeVeque R. J. (1979). */
export function mergeMoments(
  a: { n: number; mean: number; squares: number },
  b: { n: number; mean: number; squares: number },
): { n: number; mean: number; squares: number } {
  const n = a.n + b.n;
  const gap = b.mean - a.mean;
  return {
    n,
    mean: a.mean + (gap * b.n) / n,
    squares: a.squares + b.squares + (gap * gap * a.n * b.n) / n,
  };
}

/** Lays out single runs. */
export function layOutRuns(observations: readonly Observation[]): Structure {
  const n = observations.length;
  return layOut(observations, {
    u: Float64Array.from(observations, (o) => o.u),
    mean: Float64Array.from(observations, (o) => o.z),
    count: new Float64Array(n).fill(1),
    squares: new Float64Array(n),
  });
}

/** Lays out cells that were already reduced (see sufficientStatistics.ts). */
export function layOutCells(cells: readonly Cell[]): Structure {
  return layOut(cells, {
    u: Float64Array.from(cells, (c) => c.u),
    mean: Float64Array.from(cells, (c) => c.mean),
    count: Float64Array.from(cells, (c) => c.n),
    squares: Float64Array.from(cells, (c) => c.squares),
  });
}

function layOut(items: readonly Named[], columns: Columns): Structure {
  const total = items.length;
  const setups = indexNames(items.map((item) => item.setup));
  const cars = indexNames(items.map((item) => item.car));
  // Session names alone are few (days); a session is one of them within its car.
  const sessions = indexNames(items.map((item) => item.session));
  const order = orderCells(cars, sessions, setups, columns);

  const cellSetup = new Int32Array(total);
  const count = new Float64Array(total);
  const mean = new Float64Array(total);
  const squares = new Float64Array(total);
  const knownVariance = new Float64Array(total);
  const sessionOfCar: number[] = [];
  const cellOfSession: number[] = [];
  const carIndex = new Map<string, number>();
  const sessionIndex = new Map<string, number>();
  let used = 0;
  let runs = 0;
  let lastCar = -1;
  let lastSession = -1;
  for (const i of order) {
    const car = cars.places[i] as number;
    const session = sessions.places[i] as number;
    const setup = setups.places[i] as number;
    const n = columns.count[i] as number;
    const value = columns.mean[i] as number;
    runs += n;
    let opens = false;
    if (car !== lastCar) {
      lastCar = car;
      lastSession = -1;
      carIndex.set(cars.sorted[car] as string, sessionOfCar.length);
      sessionOfCar.push(cellOfSession.length);
    }
    if (session !== lastSession) {
      lastSession = session;
      opens = true;
      const key = nestedKey(cars.sorted[car] as string, sessions.sorted[session] as string);
      sessionIndex.set(key, cellOfSession.length);
      cellOfSession.push(used);
    }
    const variance = (columns.u[i] as number) ** 2;
    const before = used - 1;
    // Runs of one cell are ordered by u, so equal ones are neighbours.
    if (!opens && cellSetup[before] === setup && knownVariance[before] === variance) {
      const whole = {
        n: count[before] as number,
        mean: mean[before] as number,
        squares: squares[before] as number,
      };
      const both = mergeMoments(whole, { n, mean: value, squares: columns.squares[i] as number });
      count[before] = both.n;
      mean[before] = both.mean;
      squares[before] = both.squares;
      continue;
    }
    cellSetup[used] = setup;
    count[used] = n;
    mean[used] = value;
    squares[used] = columns.squares[i] as number;
    knownVariance[used] = variance;
    used++;
  }
  sessionOfCar.push(cellOfSession.length);
  cellOfSession.push(used);
  return finish({ setups: setups.sorted, carIndex, sessionIndex, runs }, used, sessionOfCar, cellOfSession, {
    cellSetup: cellSetup.slice(0, used),
    count: count.slice(0, used),
    mean: mean.slice(0, used),
    squares: squares.slice(0, used),
    knownVariance: knownVariance.slice(0, used),
  });
}

function finish(
  head: Pick<Structure, 'setups' | 'carIndex' | 'sessionIndex' | 'runs'>,
  cells: number,
  sessionOfCar: number[],
  cellOfSession: number[],
  arrays: Pick<Structure, 'cellSetup' | 'count' | 'mean' | 'squares' | 'knownVariance'>,
): Structure {
  const cars = sessionOfCar.length - 1;
  const supportOfCar = new Int32Array(cars + 1);
  const support: number[] = [];
  const cellLocal = new Int32Array(cells);
  // Place of a setup within the car at hand, plus 1; 0 where the car has not driven it.
  const place = new Int32Array(head.setups.length);
  for (let t = 0; t < cars; t++) {
    const start = support.length;
    supportOfCar[t] = start;
    const first = cellOfSession[sessionOfCar[t] as number] as number;
    const last = cellOfSession[sessionOfCar[t + 1] as number] as number;
    const own: number[] = [];
    for (let i = first; i < last; i++) {
      const k = arrays.cellSetup[i] as number;
      if (place[k] === 0) {
        place[k] = 1;
        own.push(k);
      }
    }
    own.sort((a, b) => a - b);
    for (let x = 0; x < own.length; x++) place[own[x] as number] = x + 1;
    for (let i = first; i < last; i++) cellLocal[i] = (place[arrays.cellSetup[i] as number] as number) - 1;
    for (const k of own) {
      place[k] = 0;
      support.push(k);
    }
  }
  supportOfCar[cars] = support.length;
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const variance of arrays.knownVariance) {
    if (variance < least) least = variance;
    if (variance > most) most = variance;
  }
  return {
    ...head,
    cars,
    sessions: cellOfSession.length - 1,
    cells,
    hasKnownVariance: most > 0,
    leastKnownVariance: cells > 0 ? least : 0,
    sessionOfCar: Int32Array.from(sessionOfCar),
    cellOfSession: Int32Array.from(cellOfSession),
    supportOfCar,
    support: Int32Array.from(support),
    cellLocal,
    ...arrays,
  };
}
