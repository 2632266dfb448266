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

/** How far back a cell looks for a run of equal uncertainty before it opens a new one. */
const MERGE_REACH = 16;

/** Joins a car and a session so that equal session names of two cars stay apart. */
export function nestedKey(car: string, session: string): string {
  return `${car}\u0000${session}`;
}

function indexNames(names: Iterable<string>): { sorted: string[]; index: Map<string, number> } {
  const sorted = [...new Set(names)].sort();
  return { sorted, index: new Map(sorted.map((name, i) => [name, i])) };
}

/**
 * The order of all observations by (car, session, setup), then by u and z so that the layout, and with it
 * every rounding error, does not depend on the order in which the runs arrived.
 */
function orderOf(car: Int32Array, session: Int32Array, setup: Int32Array, items: readonly WeightedItem[]) {
  const order = Array.from(items, (_, i) => i);
  return order.sort((i, j) => {
    const byCar = (car[i] as number) - (car[j] as number);
    if (byCar !== 0) return byCar;
    const bySession = (session[i] as number) - (session[j] as number);
    if (bySession !== 0) return bySession;
    const bySetup = (setup[i] as number) - (setup[j] as number);
    if (bySetup !== 0) return bySetup;
    const a = items[i] as WeightedItem;
    const b = items[j] as WeightedItem;
    return a.u - b.u || a.mean - b.mean || a.n - b.n || a.squares - b.squares;
  });
}

interface WeightedItem {
  setup: string;
  car: string;
  session: string;
  u: number;
  n: number;
  mean: number;
  squares: number;
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
  return layOutCells(
    observations.map((o) => ({
      setup: o.setup,
      car: o.car,
      session: o.session,
      u: o.u,
      n: 1,
      mean: o.z,
      squares: 0,
    })),
  );
}

/** Lays out cells that were already reduced (see sufficientStatistics.ts). */
export function layOutCells(cells: readonly Cell[]): Structure {
  const setups = indexNames(cells.map((c) => c.setup));
  const cars = indexNames(cells.map((c) => c.car));
  const sessions = indexNames(cells.map((c) => nestedKey(c.car, c.session)));
  const total = cells.length;
  const car = new Int32Array(total);
  const session = new Int32Array(total);
  const setup = new Int32Array(total);
  cells.forEach((c, i) => {
    car[i] = cars.index.get(c.car) as number;
    session[i] = sessions.index.get(nestedKey(c.car, c.session)) as number;
    setup[i] = setups.index.get(c.setup) as number;
  });
  const order = orderOf(car, session, setup, cells);

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
    const source = cells[i] as Cell;
    runs += source.n;
    if ((car[i] as number) !== lastCar) {
      lastCar = car[i] as number;
      carIndex.set(source.car, sessionOfCar.length);
      sessionOfCar.push(cellOfSession.length);
      lastSession = -1;
    }
    const opensSession = (session[i] as number) !== lastSession;
    if (opensSession) {
      lastSession = session[i] as number;
      sessionIndex.set(nestedKey(source.car, source.session), cellOfSession.length);
      cellOfSession.push(used);
    }
    const variance = source.u * source.u;
    let merged = false;
    const firstOfSession = cellOfSession[cellOfSession.length - 1] as number;
    for (let k = used - 1; k >= Math.max(firstOfSession, used - MERGE_REACH); k--) {
      if ((cellSetup[k] as number) !== (setup[i] as number)) break;
      if ((knownVariance[k] as number) === variance) {
        const both = mergeMoments(
          { n: count[k] as number, mean: mean[k] as number, squares: squares[k] as number },
          source,
        );
        count[k] = both.n;
        mean[k] = both.mean;
        squares[k] = both.squares;
        merged = true;
        break;
      }
    }
    if (merged) continue;
    cellSetup[used] = setup[i] as number;
    count[used] = source.n;
    mean[used] = source.mean;
    squares[used] = source.squares;
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
  for (let t = 0; t < cars; t++) {
    supportOfCar[t] = support.length;
    const first = cellOfSession[sessionOfCar[t] as number] as number;
    const last = cellOfSession[sessionOfCar[t + 1] as number] as number;
    const own = [...new Set(arrays.cellSetup.subarray(first, last))].sort((a, b) => a - b);
    const local = new Map(own.map((k, i) => [k, i]));
    for (let i = first; i < last; i++) cellLocal[i] = local.get(arrays.cellSetup[i] as number) as number;
    support.push(...own);
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
