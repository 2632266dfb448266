import { factor, inverse, solve } from '@/lib/numerics/cholesky';
import type { Variances } from './accumulate';
import { type CarPart, carParts } from './carParts';
import { DisjointSets } from './connectivity';
import type { Observation } from './structure';

/** Setups that shared cars join, with their generalised least squares estimates at components that are held. */
export interface SolvedGroup {
  setups: readonly string[];
  /** Where each of them stands in what follows. */
  place: ReadonlyMap<string, number>;
  /** ln, relative to the parts' base. */
  effects: Float64Array;
  /** M⁻¹ of the group. */
  covariance: Float64Array;
}

/** Σ of the parts' shares of the equations, before they are solved. */
interface Sums {
  place: ReadonlyMap<string, number>;
  cross: Float64Array;
  right: Float64Array;
  /** By setup: how many parts have it. */
  parts: Int32Array;
}

function sumParts(parts: readonly CarPart[]): Sums {
  const setups = [...new Set(parts.flatMap((part) => part.setups))].sort();
  const place = new Map(setups.map((setup, i) => [setup, i]));
  const p = setups.length;
  const sums: Sums = {
    place,
    cross: new Float64Array(p * p),
    right: new Float64Array(p),
    parts: new Int32Array(p),
  };
  for (const part of parts) addPart(sums, part, 1);
  return sums;
}

/** Adds a part's share, or takes it away. */
function addPart({ place, cross, right, parts }: Sums, part: CarPart, sign: 1 | -1): void {
  const [p, q] = [right.length, part.setups.length];
  const at = part.setups.map((setup) => place.get(setup) as number);
  for (let i = 0; i < q; i++) {
    const row = at[i] as number;
    right[row] = (right[row] as number) + sign * (part.right[i] as number);
    parts[row] = (parts[row] as number) + sign;
    for (let j = 0; j < q; j++) {
      const cell = row * p + (at[j] as number);
      cross[cell] = (cross[cell] as number) + sign * (part.cross[i * q + j] as number);
    }
  }
}

/** M⁻¹ and M⁻¹r over the setups that any part has; undefined where none is left. */
function solveSums({ place, cross, right, parts }: Sums): SolvedGroup | undefined {
  const all = [...place.keys()];
  const kept = all.flatMap((_, i) => ((parts[i] as number) > 0 ? [i] : []));
  const p = kept.length;
  if (p === 0) return undefined;
  const own = new Float64Array(p * p);
  kept.forEach((i, row) => {
    kept.forEach((j, column) => {
      own[row * p + column] = cross[i * all.length + j] as number;
    });
  });
  const setups = kept.map((i) => all[i] as string);
  const lower = factor(own, p);
  return {
    setups,
    place: new Map(setups.map((setup, i) => [setup, i])),
    effects: solve(
      lower,
      p,
      Float64Array.from(kept, (i) => right[i] as number),
    ),
    covariance: inverse(lower, p),
  };
}

/**
 * M = Σ of the parts, solved: M⁻¹ and M⁻¹r over the setups of these parts. Setups of cars that share none are
 * independent, so the parts of one connected group give its whole answer.
 */
export function solveParts(parts: readonly CarPart[]): SolvedGroup {
  return solveSums(sumParts(parts)) as SolvedGroup;
}

/** Which setups cars join, as cars are added one by one. */
export class SharedCars {
  private readonly places = new Map<string, number>();
  private sets = new DisjointSets(0);

  add(setups: readonly string[]): void {
    const fresh = setups.filter((setup) => !this.places.has(setup));
    if (fresh.length > 0) {
      const before = this.sets;
      const known = this.places.size;
      for (const setup of fresh) this.places.set(setup, this.places.size);
      this.sets = new DisjointSets(this.places.size);
      for (let i = 0; i < known; i++) this.sets.join(i, before.find(i));
    }
    const [first, ...rest] = setups.map((setup) => this.places.get(setup) as number);
    for (const other of rest) this.sets.join(first as number, other);
  }

  /** Undefined for a setup that no car drove. */
  groupOf(setup: string): number | undefined {
    const at = this.places.get(setup);
    return at === undefined ? undefined : this.sets.find(at);
  }
}

/** A difference of two setups at held components. */
export interface HeldDifference {
  difference: number;
  variance: number;
}

const NONE: ReadonlySet<string> = new Set();

/** Generalised least squares of a class at components that are held, and of what is left of it without some cars. */
export class HeldEquations {
  readonly parts: readonly CarPart[];
  private readonly shared = new SharedCars();
  private readonly ofGroup = new Map<number, CarPart[]>();
  private readonly ofCar = new Map<string, CarPart[]>();
  private readonly sums = new Map<number, Sums>();
  private readonly solved = new Map<number, SolvedGroup>();
  private readonly kept = new WeakMap<ReadonlySet<string>, Map<number, SolvedGroup | undefined>>();

  constructor(runs: readonly Observation[], components: Variances) {
    this.parts = carParts(runs, components);
    for (const part of this.parts) this.shared.add(part.setups);
    for (const part of this.parts) {
      const group = this.groupOf(part);
      const own = this.ofGroup.get(group);
      if (own === undefined) this.ofGroup.set(group, [part]);
      else own.push(part);
    }
    for (const [group, parts] of this.ofGroup) {
      const sums = sumParts(parts);
      this.sums.set(group, sums);
      this.solved.set(group, solveSums(sums) as SolvedGroup);
      for (const part of parts) {
        const own = this.ofCar.get(part.car);
        if (own === undefined) this.ofCar.set(part.car, [part]);
        else own.push(part);
      }
    }
  }

  /** The setups that the group's cars join. */
  setupsOf(group: number): readonly string[] {
    return this.solved.get(group)?.setups ?? [];
  }

  groupOf(part: CarPart): number {
    return this.shared.groupOf(part.setups[0] as string) as number;
  }

  partsOf(group: number): readonly CarPart[] {
    return this.ofGroup.get(group) ?? [];
  }

  /** Cars of the groups of either setup; no other moves their difference. */
  carsNear(a: string, b: string): string[] {
    const groups = new Set([this.shared.groupOf(a), this.shared.groupOf(b)]);
    return [...groups].flatMap((group) =>
      group === undefined ? [] : this.partsOf(group).map(({ car }) => car),
    );
  }

  /** ln(a) − ln(b) from all cars but some; null where a side has no run left. */
  differenceOf(a: string, b: string, left: ReadonlySet<string> = NONE): HeldDifference | null {
    const [groupA, groupB] = [this.shared.groupOf(a), this.shared.groupOf(b)];
    if (groupA === undefined || groupB === undefined) return null;
    const solvedA = this.without(groupA, left);
    const solvedB = groupA === groupB ? solvedA : this.without(groupB, left);
    const [i, j] = [solvedA?.place.get(a), solvedB?.place.get(b)];
    if (solvedA === undefined || solvedB === undefined || i === undefined || j === undefined) return null;
    const [p, q] = [solvedA.setups.length, solvedB.setups.length];
    const difference = (solvedA.effects[i] as number) - (solvedB.effects[j] as number);
    const own = (solvedA.covariance[i * (p + 1)] as number) + (solvedB.covariance[j * (q + 1)] as number);
    const common = groupA === groupB ? 2 * (solvedA.covariance[i * p + j] as number) : 0;
    return { difference, variance: own - common };
  }

  /**
   * What the group says without these cars, M − M_t, solved once for each set of them; undefined where nothing is left.
   * Taken from the sums where the cars are few, so that leaving out each in turn is linear in the cars.
   */
  without(group: number, left: ReadonlySet<string>): SolvedGroup | undefined {
    const known = this.kept.get(left) ?? new Map<number, SolvedGroup | undefined>();
    this.kept.set(left, known);
    if (known.has(group)) return known.get(group);
    const gone = [...left].flatMap((car) =>
      (this.ofCar.get(car) ?? []).filter((part) => this.groupOf(part) === group),
    );
    const solved = gone.length === 0 ? this.solved.get(group) : this.solveWithout(group, gone);
    known.set(group, solved);
    return solved;
  }

  private solveWithout(group: number, gone: readonly CarPart[]): SolvedGroup | undefined {
    const { place, cross, right, parts } = this.sums.get(group) as Sums;
    const rest = { place, cross: cross.slice(), right: right.slice(), parts: parts.slice() };
    for (const part of gone) addPart(rest, part, -1);
    return solveSums(rest);
  }
}
