import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Variances } from '../accumulate';
import { fitGroup } from '../fitGroup';
import type { FitRow } from '../fitRow';
import type { Contrast, FitOptions, GroupFit } from '../groupFit';
import { type HeldDifference, HeldEquations } from '../heldEquations';
import { holm } from '../maxT';
import { readyRows } from '../sessionSpread';
import { leaveOneOutResiduals } from '../studentised';
import { withFixedEffect } from './fixedEffect';
import { SameSession } from './sameSession';
import { spreadRatios } from './spreadRatio';
import { type CarsLeftOut, type OtherWay, type OtherWays, WAYS, type Way, type WayRun } from './way';

/** A class with more setups or runs is not computed in other ways: each way is a fit of the whole. */
export const MOST_SETUPS = 100;
export const MOST_RUNS = 20_000;

export interface PublishedDifferences {
  components: Variances;
  contrasts: readonly Pick<Contrast, 'a' | 'b' | 'difference' | 'df' | 'interval95'>[];
}

/** Without simulated families: only the pair's own interval is read. */
const LEAST_DRAWS = 64;

/**
 * The same differences computed other ways (method C4): as measured, without a step or without some runs, each by a fit
 * of its own with components of its own; from same-session pairs alone, with loop or traffic as a fixed effect, and
 * with each car left out in turn, at the components of the published fit. Null for a class beyond the limits above.
 *
 * @param stragglerLevel of the protocol, by Holm within a setup
 * @returns in the order of the published contrasts that have an interval
 */
export function otherWays(
  rows: readonly WayRun[],
  published: PublishedDifferences,
  options: Omit<FitOptions, 'draws'> & { stragglerLevel: number },
): { a: string; b: string; found: OtherWays }[] | null {
  const pairs = published.contrasts.filter(({ interval95 }) => interval95 !== null);
  const setups = new Set(rows.map(({ setup }) => setup));
  if (setups.size > MOST_SETUPS || rows.length > MOST_RUNS) return null;
  const { stragglerLevel, ...fitOptions } = options;
  const refits = new Map<Way, Answers>();
  const same: Way[] = [];
  for (const [way, changed] of changedRows(rows, published.components, stragglerLevel)) {
    if (changed === null) continue;
    if (changed === 'same') same.push(way);
    else refits.set(way, answersOf(fitGroup(changed, { ...fitOptions, draws: LEAST_DRAWS })));
  }
  const ready = readyRows(rows);
  const held = heldWays(ready, published.components);
  same.push(...held.same);
  const ratioOf = spreadRatios(rows, published.components);
  const cars = new CarsInTurn(ready, published.components);
  return pairs.map(({ a, b, df }) => ({
    a,
    b,
    found: {
      ways: WAYS.flatMap((way): OtherWay[] => {
        const refit = refits.get(way);
        if (refit !== undefined) return [{ way, ...(refit.get(pairKey(a, b)) ?? NOTHING) }];
        const at = held.of.get(way);
        return at === undefined ? [] : [{ way, ...around(at(a, b), df, ratioOf(a, b)) }];
      }),
      same: WAYS.filter((way) => same.includes(way)),
      carsLeftOut: cars.differences(a, b),
    },
  }));
}

type Answer = Pick<OtherWay, 'difference' | 'interval'>;
type Answers = ReadonlyMap<string, Answer>;
const NOTHING: Answer = { difference: null, interval: null };

const pairKey = (a: string, b: string) => `${a}\u0000${b}`;

function answersOf({ contrasts }: GroupFit): Answers {
  return new Map(
    contrasts.map(({ a, b, difference, interval95 }) => [
      pairKey(a, b),
      { difference, interval: interval95 },
    ]),
  );
}

/** @param ratio of the true variance to that of `found` */
function around(found: HeldDifference | null, df: number | null, ratio: number): Answer {
  if (found === null) return NOTHING;
  const { difference } = found;
  const variance = found.variance * ratio;
  if (df === null || df < 1 || !(variance > 0)) return { difference, interval: null };
  const half = tUpperQuantile(0.025, df) * Math.sqrt(variance);
  return { difference, interval: [difference - half, difference + half] };
}

/** The rows of each way that is a fit of other rows; `same` where they are the published ones, null where unknown. */
function changedRows(
  rows: readonly WayRun[],
  components: Variances,
  stragglerLevel: number,
): [Way, FitRow[] | 'same' | null][] {
  // What a result shares with others comes from its steps; measured values have none.
  const measured = rows.flatMap(({ measuredZ, shared: _, ...row }) =>
    measuredZ === null ? [] : [{ ...row, z: measuredZ }],
  );
  const without = (log: (row: WayRun) => number | null) =>
    rows.flatMap((row) => {
      const step = log(row);
      return step === null ? [] : [{ ...row, z: row.z - step }];
    });
  const whole = <Row extends FitRow>(changed: Row[]) => (changed.length === rows.length ? changed : null);
  const kept = (keep: (row: WayRun, index: number) => boolean) => {
    const left = rows.filter(keep);
    return left.length === rows.length ? ('same' as const) : left;
  };
  const stragglers = stragglersIn(rows, components, stragglerLevel);
  return [
    ['asMeasured', whole(measured)],
    ['withoutWind', whole(without(({ windLog }) => windLog))],
    ['withoutAir', whole(without(({ airLog }) => airLog))],
    ['withoutStragglers', kept((_, index) => !stragglers.has(index))],
    ['withoutRetrospective', kept(({ isRetrospective }) => !isRetrospective)],
    ['withoutDenseTraffic', kept(({ traffic }) => traffic !== 'dense')],
  ];
}

/** Runs that the protocol's screening marks: studentised residuals by Holm within the setup. */
function stragglersIn(rows: readonly WayRun[], components: Variances, level: number): Set<number> {
  if (!(components.residual > 0)) return new Set();
  const bySetup = new Map<string, { index: number; p: number }[]>();
  for (const { index, p } of leaveOneOutResiduals(readyRows(rows), components)) {
    const setup = (rows[index] as WayRun).setup;
    bySetup.set(setup, [...(bySetup.get(setup) ?? []), { index, p }]);
  }
  return new Set(
    [...bySetup.values()].flatMap((own) => {
      const adjusted = holm(own.map(({ p }) => p));
      return own.flatMap(({ index }, i) => ((adjusted[i] as number) <= level ? [index] : []));
    }),
  );
}

type ReadyRun = Omit<WayRun, 'shared'>;
type HeldWay = (a: string, b: string) => HeldDifference | null;

function heldWays(rows: readonly ReadyRun[], components: Variances): { of: Map<Way, HeldWay>; same: Way[] } {
  const sessions = new SameSession(rows, components);
  const of = new Map<Way, HeldWay>([['sameSession', (a, b) => sessions.differenceOf(a, b)]]);
  const same: Way[] = [];
  const fix = (way: Way, levelOf: (row: ReadyRun) => string) => {
    if (new Set(rows.map(levelOf)).size < 2) same.push(way);
    else of.set(way, withFixedEffect(rows, components, levelOf));
  };
  fix('loopFixed', ({ loop }) => loop ?? '');
  fix('trafficFixed', ({ traffic }) => traffic);
  return { of, same };
}

/** Each car left out in turn, components held. */
class CarsInTurn {
  private readonly equations: HeldEquations;
  private readonly without: ReadonlyMap<string, ReadonlySet<string>>;

  constructor(rows: readonly ReadyRun[], components: Variances) {
    this.equations = new HeldEquations(rows, components);
    this.without = new Map(this.equations.parts.map(({ car }) => [car, new Set([car])]));
  }

  /** Null where a single car is all there is. */
  differences(a: string, b: string): CarsLeftOut | null {
    const whole = this.equations.differenceOf(a, b);
    const near = this.equations.carsNear(a, b);
    if (whole === null || near.length < 2) return null;
    const found = near.flatMap(
      (car) => this.equations.differenceOf(a, b, this.without.get(car))?.difference ?? [],
    );
    if (found.length === 0) return null;
    return {
      cars: near.length,
      answered: found.length,
      sameSign: found.filter((difference) => difference > 0 === whole.difference > 0).length,
      low: Math.min(...found),
      high: Math.max(...found),
    };
  }
}
