import type { CarPart } from './carParts';
import { wordFor } from './evidence';
import type { Contrast } from './groupFit';
import type { HeldEquations } from './heldEquations';
import { carTies, clusterTesters, type Tie } from './testerClusters';

/**
 * Does an answer rest on one tester? Reweighting would still let a mean move, so the fit is not reweighted: what would
 * move it is shown, and a difference is not called settled on the word of one (method B13).
 */

/** Above this share a setup's estimate rests on a cluster. */
export const MOST_INFLUENCE = 0.5;

/** Which cluster each car counts to: that of whoever drove it. */
export function clustersOfCars(
  runs: readonly { car: string; tester: string }[],
  joined: readonly Tie[] = [],
): Map<string, string> {
  const clusterOf = clusterTesters(
    runs.map(({ tester }) => tester),
    [...carTies(runs), ...joined],
  );
  return new Map(runs.map(({ car, tester }) => [car, clusterOf.get(tester) as string]));
}

/** The published numbers of a pair that are held while clusters are left out, ln. */
export interface HeldPair {
  a: string;
  b: string;
  difference: number;
  se: number;
  /** The part of `se` from what the runs share by model and method. */
  sharedSe: number;
  /** Critical value of the class's family at the pair's own degrees of freedom. */
  ofClass: number;
}

/** The equations of a class with its cars told apart by cluster. */
export class Clusters {
  private readonly cars = new Map<string, Set<string>>();
  private readonly groups = new Map<string, Set<number>>();
  private readonly parts = new Map<string, CarPart[]>();
  private readonly shares = new Map<string, Map<string, number>>();

  constructor(
    private readonly equations: HeldEquations,
    private readonly clusterOf: ReadonlyMap<string, string>,
  ) {
    for (const part of equations.parts) {
      const cluster = this.nameOf(part.car);
      const own = this.cars.get(cluster) ?? new Set();
      this.cars.set(cluster, own.add(part.car));
      const groups = this.groups.get(cluster) ?? new Set();
      this.groups.set(cluster, groups.add(equations.groupOf(part)));
      for (const setup of part.setups) this.parts.set(setup, [...(this.parts.get(setup) ?? []), part]);
    }
  }

  private nameOf(car: string): string {
    return this.clusterOf.get(car) ?? car;
  }

  /**
   * c_tk = [M⁻¹M_t]_kk with M_t the cluster's share of M: what a common factor on all of t's runs of setup k would move
   * its estimate by. Over the clusters the shares of a setup add up to 1.
   */
  influence(setup: string): ReadonlyMap<string, number> {
    const known = this.shares.get(setup);
    if (known !== undefined) return known;
    const shares = new Map<string, number>();
    this.shares.set(setup, shares);
    for (const part of this.partsWith(setup)) {
      const answer = this.equations.without(this.equations.groupOf(part), new Set());
      if (answer === undefined) continue;
      const name = this.nameOf(part.car);
      const k = answer.place.get(setup) as number;
      const own = part.setups.indexOf(setup);
      let share = 0;
      part.setups.forEach((other, j) => {
        const at = answer.place.get(other) as number;
        share +=
          (answer.covariance[k * answer.setups.length + at] as number) *
          (part.cross[j * part.setups.length + own] as number);
      });
      shares.set(name, (shares.get(name) ?? 0) + share);
    }
    return shares;
  }

  /** Clusters with more than half of the influence on a setup; there is one at most, unless weights turn negative. */
  restsOnFor(setup: string): string[] {
    const most = [...this.influence(setup)].filter(([, share]) => share > MOST_INFLUENCE);
    return most.map(([cluster]) => cluster).sort();
  }

  /** All of them, by name. */
  names(): string[] {
    return [...this.cars.keys()].sort();
  }

  /** Setups whose estimates the cluster's cars move: those of the groups that they are in. */
  setupsNear(cluster: string): Set<string> {
    return new Set([...(this.groups.get(cluster) ?? [])].flatMap((group) => this.equations.setupsOf(group)));
  }

  /** Clusters with a car in the groups of either setup; no other moves their difference. */
  near(a: string, b: string): Set<string> {
    return new Set(this.equations.carsNear(a, b).map((car) => this.nameOf(car)));
  }

  /**
   * The interval of the class for a pair without a cluster, components and critical value held; null where a side has no
   * run left. The correction of the published variance for few cars is held as a factor, so that leaving nobody out gives
   * the published interval.
   */
  intervalWithout(pair: HeldPair, cluster: string): [number, number] | null {
    const whole = this.equations.differenceOf(pair.a, pair.b);
    const rest = this.equations.differenceOf(pair.a, pair.b, this.cars.get(cluster));
    if (whole === null || rest === null) return null;
    const correction = (pair.se ** 2 - pair.sharedSe ** 2) / whole.variance;
    const half = pair.ofClass * Math.sqrt(rest.variance * correction + pair.sharedSe ** 2);
    return [rest.difference - half, rest.difference + half];
  }

  /**
   * Clusters that a settled difference rests on: those with more than half of the influence on either setup, and those
   * without which it would not be settled.
   */
  restsOn(pair: HeldPair): string[] {
    const found = new Set([...this.restsOnFor(pair.a), ...this.restsOnFor(pair.b)]);
    for (const cluster of this.near(pair.a, pair.b)) {
      if (found.has(cluster)) continue;
      const interval = this.intervalWithout(pair, cluster);
      const isSame =
        interval !== null &&
        wordFor(interval, null, interval) === 'settled' &&
        interval[0] + interval[1] > 0 === pair.difference > 0;
      if (!isSame) found.add(cluster);
    }
    return [...found].sort();
  }

  private partsWith(setup: string): CarPart[] {
    return this.parts.get(setup) ?? [];
  }
}

/** What is held of a published difference; undefined where it has no interval. */
export function heldPair({ a, b, difference, se, sharedSe, simultaneous }: Contrast): HeldPair | undefined {
  if (difference === null || se === null || simultaneous === null) return undefined;
  return { a, b, difference, se, sharedSe: sharedSe ?? 0, ofClass: (simultaneous[1] - difference) / se };
}

/** Settled differences that rest on one cluster get the next lower word, in place; across models that is leaning. */
export function lowerWordsThatRestOnOne(contrasts: readonly Contrast[], clusters: Clusters): void {
  for (const contrast of contrasts) {
    const pair = heldPair(contrast);
    if (contrast.word !== 'settled' || pair === undefined) continue;
    contrast.restsOn = clusters.restsOn(pair);
    if (contrast.restsOn.length > 0) contrast.word = contrast.modelInterval === null ? 'leaning' : 'probable';
  }
}
