import { type Columns, type Indexed, indexCodes, indexNames, orderCells } from './cellOrder';
import { NameIndex } from './nameIndex';
import type { RunColumns } from './runColumns';

/**
 * The nested layout of a set of runs: cars hold loops, a car on a loop holds sessions, sessions hold cells of one
 * setup. Runs of one cell that share the same known uncertainty are merged to (count, mean, sum of squares about the
 * mean), which is sufficient for the model and makes the fit linear in the number of cells.
 */

/** One run as the fit sees it. */
export interface Observation {
  setup: string;
  /** The physical car. */
  car: string;
  /** The loop driven; without one all runs of a car are on one loop. */
  loop?: string;
  /** Unique within its car and loop: one day on two loops is two sessions. */
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
  loop?: string;
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
  loop?: string;
  session: string;
}

/** Cells in typed arrays, ordered by car, loop, session and setup; all indices are zero based. */
export interface Structure {
  /** Setup names in sorted order; the order of every vector and matrix of a fit. */
  setups: string[];
  /** The smallest value: all means are kept relative to it, so that a large common constant costs no digits. */
  origin: number;
  /** Car, nestedKey(car, loop) and nestedKey(car, loop, session) → index in layout order. */
  carIndex: NameIndex;
  loopIndex: NameIndex;
  sessionIndex: NameIndex;
  runs: number;
  cars: number;
  /** Cars on a loop. */
  loops: number;
  sessions: number;
  cells: number;
  hasKnownVariance: boolean;
  /** Smallest known variance, on the scale of z squared. */
  leastKnownVariance: number;
  /** car → its first loop; loop → its first session; session → its first cell; each one longer than its level. */
  loopOfCar: Int32Array;
  sessionOfLoop: Int32Array;
  cellOfSession: Int32Array;
  /** car → its first entry in `support`; length cars + 1. */
  supportOfCar: Int32Array;
  /** Setups that occur in each car, ascending within the car. */
  support: Int32Array;
  cellSetup: Int32Array;
  /** Position of the cell's setup within its car's support. */
  cellLocal: Int32Array;
  count: Float64Array;
  /** Relative to `origin`. */
  mean: Float64Array;
  squares: Float64Array;
  knownVariance: Float64Array;
  /** Item as handed in → its cell. */
  cellOfItem: Int32Array;
}

/** Joins names so that equal loops or sessions of two cars stay apart. */
export function nestedKey(...names: readonly string[]): string {
  return names.join('\u0000');
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

/** Lays out runs that come in columns. */
export function layOutColumns(runs: RunColumns): Structure {
  const names = {
    setups: indexCodes(runs.setup),
    cars: indexCodes(runs.car),
    loops: indexCodes(runs.loop),
    sessions: indexCodes(runs.session),
  };
  return layOut(names, {
    u: runs.u,
    mean: runs.z.slice(),
    count: new Float64Array(runs.count).fill(1),
    squares: new Float64Array(runs.count),
  });
}

/** Lays out single runs. */
export function layOutRuns(observations: readonly Observation[]): Structure {
  const n = observations.length;
  return layOut(indexed(observations), {
    u: Float64Array.from(observations, (o) => o.u),
    mean: Float64Array.from(observations, (o) => o.z),
    count: new Float64Array(n).fill(1),
    squares: new Float64Array(n),
  });
}

/** Lays out cells that were already reduced (see sufficientStatistics.ts). */
export function layOutCells(cells: readonly Cell[]): Structure {
  return layOut(indexed(cells), {
    u: Float64Array.from(cells, (c) => c.u),
    mean: Float64Array.from(cells, (c) => c.mean),
    count: Float64Array.from(cells, (c) => c.n),
    squares: Float64Array.from(cells, (c) => c.squares),
  });
}

/** Neighbouring doubles subtract exactly, so moments about the smallest value keep what the values hold. */
function aboutSmallest(values: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (const value of values) if (value < least) least = value;
  const origin = values.length === 0 ? 0 : least;
  for (let i = 0; i < values.length; i++) values[i] = (values[i] as number) - origin;
  return origin;
}

/** Names alone are few (loops, days); a session is one of them within its car and loop. */
interface IndexedItems {
  setups: Indexed;
  cars: Indexed;
  loops: Indexed;
  sessions: Indexed;
}

function indexed(items: readonly Named[]): IndexedItems {
  return {
    setups: indexNames(items.map((item) => item.setup)),
    cars: indexNames(items.map((item) => item.car)),
    loops: indexNames(items.map((item) => item.loop ?? '')),
    sessions: indexNames(items.map((item) => item.session)),
  };
}

/** Moves `columns.mean` to count from the smallest value. */
function layOut({ setups, cars, loops, sessions }: IndexedItems, columns: Columns): Structure {
  const total = columns.mean.length;
  const origin = aboutSmallest(columns.mean);
  const order = orderCells([cars, loops, sessions, setups], columns);
  const cellSetup = new Int32Array(total);
  const count = new Float64Array(total);
  const mean = new Float64Array(total);
  const squares = new Float64Array(total);
  const knownVariance = new Float64Array(total);
  const cellOfItem = new Int32Array(total);
  const levels = new Levels(cars, loops, sessions);
  let used = 0;
  let runs = 0;
  for (const i of order) {
    const setup = setups.places[i] as number;
    const n = columns.count[i] as number;
    runs += n;
    const opens = levels.open(i, used);
    const variance = (columns.u[i] as number) ** 2;
    const before = used - 1;
    // Runs of one cell are ordered by u, so equal ones are neighbours.
    if (!opens && cellSetup[before] === setup && knownVariance[before] === variance) {
      const whole = {
        n: count[before] as number,
        mean: mean[before] as number,
        squares: squares[before] as number,
      };
      const item = { n, mean: columns.mean[i] as number, squares: columns.squares[i] as number };
      const both = mergeMoments(whole, item);
      count[before] = both.n;
      mean[before] = both.mean;
      squares[before] = both.squares;
      cellOfItem[i] = before;
      continue;
    }
    cellSetup[used] = setup;
    count[used] = n;
    mean[used] = columns.mean[i] as number;
    squares[used] = columns.squares[i] as number;
    knownVariance[used] = variance;
    cellOfItem[i] = used;
    used++;
  }
  return finish({ setups: setups.sorted, origin, runs, cellOfItem }, used, levels.close(used), {
    cellSetup: cellSetup.slice(0, used),
    count: count.slice(0, used),
    mean: mean.slice(0, used),
    squares: squares.slice(0, used),
    knownVariance: knownVariance.slice(0, used),
  });
}

type Boundaries = Pick<
  Structure,
  'carIndex' | 'loopIndex' | 'sessionIndex' | 'loopOfCar' | 'sessionOfLoop' | 'cellOfSession'
>;

/** Where each car, car on a loop and session begins, as the ordered items go by. */
class Levels {
  private readonly starts = { car: [] as number[], loop: [] as number[], session: [] as number[] };
  /** Where each stands among the sorted names. */
  private readonly codes = { car: [] as number[], loop: [] as number[], session: [] as number[] };
  private last = { car: -1, loop: -1, session: -1 };

  constructor(
    private readonly cars: Indexed,
    private readonly loops: Indexed,
    private readonly sessions: Indexed,
  ) {}

  /** Whether the item is the first of a session, which then begins at `cell`. */
  open(item: number, cell: number): boolean {
    const car = this.cars.places[item] as number;
    const loop = this.loops.places[item] as number;
    const session = this.sessions.places[item] as number;
    const { last, starts, codes } = this;
    if (car === last.car && loop === last.loop && session === last.session) return false;
    const isNewCar = car !== last.car;
    if (isNewCar) {
      codes.car.push(car);
      starts.car.push(starts.loop.length);
    }
    if (isNewCar || loop !== last.loop) {
      codes.loop.push(loop);
      starts.loop.push(starts.session.length);
    }
    codes.session.push(session);
    starts.session.push(cell);
    this.last = { car, loop, session };
    return true;
  }

  close(cells: number): Boundaries {
    const { starts, codes } = this;
    const [cars, loops, sessions] = [this.cars.sorted, this.loops.sorted, this.sessions.sorted];
    const loopOfCar = Int32Array.from([...starts.car, starts.loop.length]);
    const sessionOfLoop = Int32Array.from([...starts.loop, starts.session.length]);
    const carNames = () => codes.car.map((code) => cars[code] as string);
    const loopNames = () => {
      const owners = carNames();
      const places = ownersOf(loopOfCar);
      return codes.loop.map((code, l) =>
        nestedKey(owners[places[l] as number] as string, loops[code] as string),
      );
    };
    const sessionNames = () => {
      const owners = loopNames();
      const places = ownersOf(sessionOfLoop);
      return codes.session.map((code, i) =>
        nestedKey(owners[places[i] as number] as string, sessions[code] as string),
      );
    };
    return {
      carIndex: new NameIndex(carNames),
      loopIndex: new NameIndex(loopNames),
      sessionIndex: new NameIndex(sessionNames),
      loopOfCar,
      sessionOfLoop,
      cellOfSession: Int32Array.from([...starts.session, cells]),
    };
  }
}

/** The owner of each item, from where each owner's items begin. */
function ownersOf(starts: Int32Array): Int32Array {
  const owners = new Int32Array(starts[starts.length - 1] ?? 0);
  for (let owner = 0; owner + 1 < starts.length; owner++) {
    owners.fill(owner, starts[owner] as number, starts[owner + 1] as number);
  }
  return owners;
}

function finish(
  head: Pick<Structure, 'setups' | 'origin' | 'runs' | 'cellOfItem'>,
  cells: number,
  levels: Boundaries,
  arrays: Pick<Structure, 'cellSetup' | 'count' | 'mean' | 'squares' | 'knownVariance'>,
): Structure {
  const cars = levels.loopOfCar.length - 1;
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const variance of arrays.knownVariance) {
    if (variance < least) least = variance;
    if (variance > most) most = variance;
  }
  return {
    ...head,
    ...levels,
    cars,
    loops: levels.sessionOfLoop.length - 1,
    sessions: levels.cellOfSession.length - 1,
    cells,
    hasKnownVariance: most > 0,
    leastKnownVariance: cells > 0 ? least : 0,
    ...supportOf(head.setups.length, levels, arrays.cellSetup),
    ...arrays,
  };
}

/** Cells of a car: from the first of its first session to the first of the next car's. */
export function cellsOfCar(s: Boundaries, car: number): [number, number] {
  const first = s.sessionOfLoop[s.loopOfCar[car] as number] as number;
  const next = s.sessionOfLoop[s.loopOfCar[car + 1] as number] as number;
  return [s.cellOfSession[first] as number, s.cellOfSession[next] as number];
}

/** The setups that each car drove, and each cell's place among those of its car. */
function supportOf(
  setups: number,
  levels: Boundaries,
  cellSetup: Int32Array,
): Pick<Structure, 'supportOfCar' | 'support' | 'cellLocal'> {
  const cars = levels.loopOfCar.length - 1;
  const supportOfCar = new Int32Array(cars + 1);
  const support: number[] = [];
  const cellLocal = new Int32Array(cellSetup.length);
  // Place of a setup within the car at hand, plus 1; 0 where the car has not driven it.
  const place = new Int32Array(setups);
  for (let t = 0; t < cars; t++) {
    supportOfCar[t] = support.length;
    const [first, last] = cellsOfCar(levels, t);
    const own: number[] = [];
    for (let i = first; i < last; i++) {
      const k = cellSetup[i] as number;
      if (place[k] === 0) {
        place[k] = 1;
        own.push(k);
      }
    }
    own.sort((a, b) => a - b);
    for (let x = 0; x < own.length; x++) place[own[x] as number] = x + 1;
    for (let i = first; i < last; i++) cellLocal[i] = (place[cellSetup[i] as number] as number) - 1;
    for (const k of own) {
      place[k] = 0;
      support.push(k);
    }
  }
  supportOfCar[cars] = support.length;
  return { supportOfCar, support: Int32Array.from(support), cellLocal };
}
