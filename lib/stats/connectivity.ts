import type { Structure } from './structure';

/**
 * What joins two setups: a common session, a common car, a chain of common cars, or nothing.
 * Shown beside every comparison, because it decides which variances cancel in the difference.
 */
export type LinkKind = 'session' | 'car' | 'indirect' | 'none';

export interface Connectivity {
  /** Groups of setups joined by shared sessions, names sorted. */
  bySession: string[][];
  /** Groups of setups joined by shared cars, names sorted. */
  byCar: string[][];
}

/** Disjoint sets with path halving and union by size (Tarjan R. E., 1975, JACM 22, 215). */
export class DisjointSets {
  private readonly parent: Int32Array;
  private readonly size: Int32Array;

  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, i) => i);
    this.size = new Int32Array(count).fill(1);
  }

  find(item: number): number {
    let at = item;
    while (this.parent[at] !== at) {
      this.parent[at] = this.parent[this.parent[at] as number] as number;
      at = this.parent[at] as number;
    }
    return at;
  }

  join(a: number, b: number): void {
    let x = this.find(a);
    let y = this.find(b);
    if (x === y) return;
    if ((this.size[x] as number) < (this.size[y] as number)) [x, y] = [y, x];
    this.parent[y] = x;
    this.size[x] = (this.size[x] as number) + (this.size[y] as number);
  }

  /** Members by set, in ascending order of their least member. */
  groups(): number[][] {
    const bySet = new Map<number, number[]>();
    for (let i = 0; i < this.parent.length; i++) {
      const root = this.find(i);
      const group = bySet.get(root);
      if (group === undefined) bySet.set(root, [i]);
      else group.push(i);
    }
    return [...bySet.values()];
  }
}

/** The links between all setups of a structure. */
export class Links {
  private readonly m: number;
  private readonly sessionLink: Uint8Array;
  private readonly carLink: Uint8Array;
  private readonly distances: Int32Array;
  readonly connectivity: Connectivity;

  constructor(s: Structure) {
    this.m = s.setups.length;
    this.sessionLink = new Uint8Array(this.m * this.m);
    this.carLink = new Uint8Array(this.m * this.m);
    const bySession = new DisjointSets(this.m);
    const byCar = new DisjointSets(this.m);
    for (let ses = 0; ses < s.sessions; ses++) {
      const cells = s.cellSetup.subarray(s.cellOfSession[ses], s.cellOfSession[ses + 1]);
      this.mark(this.sessionLink, bySession, [...new Set(cells)]);
    }
    for (let t = 0; t < s.cars; t++) {
      this.mark(this.carLink, byCar, [...s.support.subarray(s.supportOfCar[t], s.supportOfCar[t + 1])]);
    }
    const named = (sets: DisjointSets) => sets.groups().map((g) => g.map((k) => s.setups[k] as string));
    this.connectivity = { bySession: named(bySession), byCar: named(byCar) };
    this.distances = this.measureChains();
  }

  private mark(links: Uint8Array, sets: DisjointSets, setups: readonly number[]): void {
    for (const a of setups) {
      for (const b of setups) links[a * this.m + b] = 1;
      sets.join(setups[0] as number, a);
    }
  }

  /** Shortest chains of shared cars, breadth first from every setup; −1 where there is none. */
  private measureChains(): Int32Array {
    const { m } = this;
    const distances = new Int32Array(m * m).fill(-1);
    const neighbours = Array.from({ length: m }, (_, a) =>
      Array.from({ length: m }, (_, b) => b).filter((b) => b !== a && this.carLink[a * m + b] === 1),
    );
    for (let from = 0; from < m; from++) {
      distances[from * m + from] = 0;
      const queue = [from];
      for (let head = 0; head < queue.length; head++) {
        const at = queue[head] as number;
        for (const next of neighbours[at] as number[]) {
          if (distances[from * m + next] !== -1) continue;
          distances[from * m + next] = (distances[from * m + at] as number) + 1;
          queue.push(next);
        }
      }
    }
    return distances;
  }

  kind(a: number, b: number): LinkKind {
    if (this.sessionLink[a * this.m + b] === 1) return 'session';
    if (this.carLink[a * this.m + b] === 1) return 'car';
    return (this.distances[a * this.m + b] as number) > 0 ? 'indirect' : 'none';
  }

  /** Number of car-to-car steps in the shortest chain: 1 for a direct link, 0 when there is none. */
  chainLength(a: number, b: number): number {
    return Math.max(0, this.distances[a * this.m + b] as number);
  }
}
