import { DisjointSets } from './connectivity';

/**
 * Testers that count as one: whoever shares cars, pictures, recordings or a reviewer of their own (method B13). Joined by
 * union-find, so that A with B and B with C make one of three.
 */
export type Tie = readonly [tester: string, other: string];

/** Of each tester the name of their cluster: its first tester in the order of names. */
export function clusterTesters(testers: Iterable<string>, ties: readonly Tie[]): Map<string, string> {
  const names = [...new Set([...testers, ...ties.flat()])].sort();
  const place = new Map(names.map((tester, i) => [tester, i]));
  const sets = new DisjointSets(names.length);
  for (const [a, b] of ties) sets.join(place.get(a) as number, place.get(b) as number);
  const nameOf = new Map<number, string>();
  const clusters = new Map<string, string>();
  for (const [tester, i] of place) {
    const set = sets.find(i);
    const name = nameOf.get(set) ?? tester;
    nameOf.set(set, name);
    clusters.set(tester, name);
  }
  return clusters;
}

/** Testers who drove one car, as ties. */
export function carTies(runs: Iterable<{ car: string; tester: string }>): Tie[] {
  const firstOfCar = new Map<string, string>();
  const ties = new Map<string, Tie>();
  for (const { car, tester } of runs) {
    const first = firstOfCar.get(car);
    if (first === undefined) firstOfCar.set(car, tester);
    else if (first !== tester) ties.set(`${first} ${tester}`, [first, tester]);
  }
  return [...ties.values()];
}

/** So many of a tester's runs that count were approved by this reviewer. */
export interface Approvals {
  reviewer: string;
  tester: string;
  runs: number;
}

/** A reviewer of more than this share of all that counts reviews for everybody: that joins nobody. */
export const MOST_REVIEWED = 0.5;

/**
 * Whom a reviewer joins. That one honest reviewer reads everybody's runs says nothing of the testers, so a reviewer joins
 * only where all of this holds:
 *
 * - the testers' runs that count were approved by that reviewer alone: a second one who approved a single run unties;
 * - more than half of what the reviewer approved is theirs: that is what the reviewer is there for;
 * - it is at most half of all that counts: others had the most to read and never read these.
 *
 * Those testers are joined to each other and to the reviewer as a tester. Two people who each approved all that counts of
 * the other are joined as well where a third reviewer was there to ask.
 */
export function reviewerTies(approvals: readonly Approvals[]): Tie[] {
  const reviewersOf = new Map<string, Set<string>>();
  const approvedBy = new Map<string, Map<string, number>>();
  let all = 0;
  for (const { reviewer, tester, runs } of approvals) {
    if (reviewer === tester || runs <= 0) continue;
    reviewersOf.set(tester, (reviewersOf.get(tester) ?? new Set()).add(reviewer));
    const own = approvedBy.get(reviewer) ?? new Map<string, number>();
    approvedBy.set(reviewer, own.set(tester, (own.get(tester) ?? 0) + runs));
    all += runs;
  }
  const onlyReviewer = (tester: string) => {
    const [only, ...others] = reviewersOf.get(tester) ?? [];
    return others.length === 0 ? only : undefined;
  };
  const ties: Tie[] = [];
  for (const [reviewer, byTester] of approvedBy) {
    const theirs = [...byTester.keys()].filter((tester) => onlyReviewer(tester) === reviewer).sort();
    const sum = (testers: Iterable<string>) =>
      [...testers].reduce((total, tester) => total + (byTester.get(tester) ?? 0), 0);
    const whole = sum(byTester.keys());
    if (sum(theirs) > whole / 2 && whole <= MOST_REVIEWED * all)
      for (const tester of theirs) ties.push([reviewer, tester]);
    if (approvedBy.size < 3) continue;
    for (const tester of theirs)
      if (reviewer < tester && onlyReviewer(reviewer) === tester) ties.push([reviewer, tester]);
  }
  return ties;
}
