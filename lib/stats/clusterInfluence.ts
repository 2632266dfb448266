import type { CarPart } from './carParts';
import { DisjointSets } from './connectivity';
import { wordFor } from './evidence';
import type { Contrast } from './groupFit';
import type { HeldEquations } from './heldEquations';

/**
 * Does an answer rest on one tester? Reweighting would still let a mean move, so the fit is not reweighted: what would
 * move it is shown, and a difference is not called settled on the word of one (method B13).
 */

/** Above this share a setup's estimate rests on a cluster. */
export const MOST_INFLUENCE = 0.5;

/**
 * Which cluster each car counts to: a tester, or several that share cars or are joined otherwise. Clusters are named
 * after their first tester in the order of names.
 *
 * @param joined pairs of testers that share more than cars, such as pictures
 */
export function clustersOfCars(
  runs: readonly { car: string; tester: string }[],
  joined: readonly (readonly [string, string])[] = [],
): Map<string, string> {
  const testers = [...new Set([...runs.map(({ tester }) => tester), ...joined.flat()])].sort();
  const place = new Map(testers.map((tester, i) => [tester, i]));
  const sets = new DisjointSets(testers.length);
  const firstOfCar = new Map<string, string>();
  for (const { car, tester } of runs) {
    const first = firstOfCar.get(car);
    if (first === undefined) firstOfCar.set(car, tester);
    else sets.join(place.get(first) as number, place.get(tester) as number);
  }
  for (const [a, b] of joined) sets.join(place.get(a) as number, place.get(b) as number);
  const nameOf = new Map<number, string>();
  for (const tester of testers) {
    const set = sets.find(place.get(tester) as number);
    if (!nameOf.has(set)) nameOf.set(set, tester);
  }
  return new Map(
    [...firstOfCar].map(([car, tester]) => [
      car,
      nameOf.get(sets.find(place.get(tester) as number)) as string,
    ]),
  );
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
      const k = answer.setups.indexOf(setup);
      const own = part.setups.indexOf(setup);
      let share = 0;
      part.setups.forEach((other, j) => {
        const at = answer.setups.indexOf(other);
        share +=
          (answer.covariance[k * answer.setups.length + at] as number) *
          (part.cross[j * part.setups.length + own] as number);
      });
      shares.set(name, (shares.get(name) ?? 0) + share);
    }
    return shares;
  }

  /**
   * Clusters that a settled difference rests on: those with more than half of the influence on either setup, and those
   * without which it would not be settled, components and critical value held. The correction of the published variance
   * for few cars is held as a factor, so that leaving nobody out gives the published interval.
   */
  restsOn(pair: HeldPair): string[] {
    const { a, b } = pair;
    const whole = this.equations.differenceOf(a, b);
    if (whole === null) return [];
    const found = new Set<string>();
    for (const setup of [a, b]) {
      for (const [cluster, share] of this.influence(setup)) if (share > MOST_INFLUENCE) found.add(cluster);
    }
    const correction = (pair.se ** 2 - pair.sharedSe ** 2) / whole.variance;
    for (const cluster of new Set(this.equations.carsNear(a, b).map((car) => this.nameOf(car)))) {
      if (found.has(cluster)) continue;
      const rest = this.equations.differenceOf(a, b, this.cars.get(cluster));
      if (rest === null) {
        found.add(cluster);
        continue;
      }
      const half = pair.ofClass * Math.sqrt(rest.variance * correction + pair.sharedSe ** 2);
      const interval = [rest.difference - half, rest.difference + half] as const;
      const isSettled = wordFor(interval, null, interval) === 'settled';
      if (!isSettled || rest.difference > 0 !== pair.difference > 0) found.add(cluster);
    }
    return [...found].sort();
  }

  private partsWith(setup: string): CarPart[] {
    return this.parts.get(setup) ?? [];
  }
}

/** Settled differences that rest on one cluster get the next lower word, in place; across models that is leaning. */
export function lowerWordsThatRestOnOne(contrasts: readonly Contrast[], clusters: Clusters): void {
  for (const contrast of contrasts) {
    const { a, b, word, difference, se, sharedSe, simultaneous } = contrast;
    if (word !== 'settled' || difference === null || se === null || simultaneous === null) continue;
    const ofClass = (simultaneous[1] - difference) / se;
    contrast.restsOn = clusters.restsOn({ a, b, difference, se, sharedSe: sharedSe ?? 0, ofClass });
    if (contrast.restsOn.length > 0) contrast.word = contrast.modelInterval === null ? 'leaning' : 'probable';
  }
}
