import type { CodedNames } from './runColumns';

/** Names as numbers, and the order of runs by car, session and setup. */
export interface Indexed {
  sorted: string[];
  /** Place of each item's name among the sorted ones. */
  places: Int32Array;
}

/** What a run or a reduced cell brings, by item. */
export interface Columns {
  u: Float64Array;
  mean: Float64Array;
  count: Float64Array;
  squares: Float64Array;
}

/** Sorted distinct names and the place of each item among them. */
export function indexNames(names: readonly string[]): Indexed {
  const found = new Map<string, number>();
  const arrivals = new Int32Array(names.length);
  let last: string | undefined;
  let lastArrival = 0;
  for (let i = 0; i < names.length; i++) {
    const name = names[i] as string;
    // Runs of one car tend to come together; a repeat needs no look-up.
    if (name !== last) {
      last = name;
      const known = found.get(name);
      lastArrival = known ?? found.size;
      if (known === undefined) found.set(name, found.size);
    }
    arrivals[i] = lastArrival;
  }
  const sorted = [...found.keys()].sort();
  const rank = new Int32Array(sorted.length);
  sorted.forEach((name, i) => {
    rank[found.get(name) as number] = i;
  });
  for (let i = 0; i < arrivals.length; i++) arrivals[i] = rank[arrivals[i] as number] as number;
  return { sorted, places: arrivals };
}

/** The same of names that are numbers already; no name is the empty one. */
export function indexCodes({ names, codes }: CodedNames): Indexed {
  const sorted = [...new Set(codes.includes(-1) ? [...names, ''] : names)].sort();
  const rankOf = new Map(sorted.map((name, rank) => [name, rank]));
  const rank = Int32Array.from(names, (name) => rankOf.get(name) as number);
  const unnamed = rankOf.get('') ?? -1;
  return { sorted, places: codes.map((code) => (code === -1 ? unnamed : (rank[code] as number))) };
}

/** Stable counting sort of `order` by a small whole-number key. */
function sortBy(order: Int32Array, key: Int32Array, distinct: number): Int32Array {
  const next = new Int32Array(distinct + 1);
  for (let i = 0; i < order.length; i++) {
    const bin = (key[order[i] as number] as number) + 1;
    next[bin] = (next[bin] as number) + 1;
  }
  for (let k = 0; k < distinct; k++) next[k + 1] = (next[k + 1] as number) + (next[k] as number);
  const sorted = new Int32Array(order.length);
  for (let i = 0; i < order.length; i++) {
    const item = order[i] as number;
    const bin = key[item] as number;
    const place = next[bin] as number;
    sorted[place] = item;
    next[bin] = place + 1;
  }
  return sorted;
}

/**
 * The order of all items by the given names, the slowest first (car, loop, session, setup), then by u and z so that
 * the layout, and with it every rounding error, does not depend on the order in which the runs arrived.
 */
export function orderCells(names: readonly Indexed[], columns: Columns): Int32Array {
  const { u, mean, count, squares } = columns;
  let order: Int32Array = new Int32Array(u.length);
  for (let i = 0; i < order.length; i++) order[i] = i;
  const used = names.filter((one) => one.sorted.length > 1);
  for (const one of [...used].reverse()) order = sortBy(order, one.places, one.sorted.length);
  const places = used.map((one) => one.places);
  const same = (i: number, j: number) => {
    for (const of of places) if (of[i] !== of[j]) return false;
    return true;
  };
  const compare = (i: number, j: number) =>
    (u[i] as number) - (u[j] as number) ||
    (mean[i] as number) - (mean[j] as number) ||
    (count[i] as number) - (count[j] as number) ||
    (squares[i] as number) - (squares[j] as number);
  for (let from = 0; from < order.length; ) {
    const first = order[from] as number;
    let to = from + 1;
    while (to < order.length && same(first, order[to] as number)) to++;
    if (to - from === 2) {
      const second = order[from + 1] as number;
      if (compare(first, second) > 0) {
        order[from] = second;
        order[from + 1] = first;
      }
    } else if (to - from > 2) order.subarray(from, to).sort(compare);
    from = to;
  }
  return order;
}
