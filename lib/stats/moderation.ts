import { COMPONENT_COUNT, COMPONENTS, type Component, type Variances } from './accumulate';
import { DisjointSets } from './connectivity';
import type { Derivatives } from './criterion';
import type { Structure } from './structure';

/**
 * What a young class borrows: each component is drawn toward a stated value as if that had been seen on d0 degrees of
 * freedom. To the REML deviance Σ d0 (ln v + s0²/v) is added and to the expected information d0/(2v²); with one
 * component seen on d degrees of freedom this is exactly v = (d0 s0² + d s²)/(d0 + d) on d0 + d of them.
 * Smyth G. K. (2004), Stat. Appl. Genet. Mol. Biol. 3, 3.
 */
export interface Prior {
  /** Degrees of freedom that the value counts for; 0 once the data speak for themselves. */
  d0: number;
  /** The value, a variance. */
  s2: number;
}

/** By component; a component without an entry is left to the data. */
export type Moderation = Partial<Record<Component, Prior>>;

/** Spreads on the log scale that a class is believed to have before its runs tell: in the table of priors. */
export interface ComponentPriors {
  carSd: number;
  sessionSd: number;
  runSd: number;
}

/** A prior counts for this many degrees of freedom, fading until the data have so many (method B5). */
const FULL_WEIGHT = 4;
const FADED_AT = 20;

/** What the data can see of each component, by counting. */
export interface SeenDegrees {
  car: number;
  carLoop: number;
  session: number;
  residual: number;
}

/**
 * With lev(F) = levels of F − connected components of the graph that joins setups and levels of F: cars lev(car), cars
 * on a loop lev(car × loop) − lev(car), sessions lev(session) − lev(car × loop), runs N − p − lev(session).
 */
export function seenDegrees(s: Structure): SeenDegrees {
  const car = levelsSeen(s, s.cars, (t) => [s.loopOfCar[t] as number, s.loopOfCar[t + 1] as number], 'loop');
  const loop = levelsSeen(s, s.loops, (l) => [l, l + 1], 'loop');
  const session = levelsSeen(s, s.sessions, (ses) => [ses, ses + 1], 'session');
  return {
    car,
    carLoop: loop - car,
    session: session - loop,
    residual: s.runs - s.setups.length - session,
  };
}

function levelsSeen(
  s: Structure,
  levels: number,
  rangeOf: (level: number) => [number, number],
  unit: 'loop' | 'session',
): number {
  const m = s.setups.length;
  const sets = new DisjointSets(m + levels);
  for (let level = 0; level < levels; level++) {
    const [from, to] = rangeOf(level);
    const [first, last] =
      unit === 'session' ? [from, to] : [s.sessionOfLoop[from] as number, s.sessionOfLoop[to] as number];
    for (let i = s.cellOfSession[first] as number; i < (s.cellOfSession[last] as number); i++) {
      sets.join(m + level, s.cellSetup[i] as number);
    }
  }
  return levels - sets.groups().length;
}

/** The prior's degrees of freedom beside d that the data have. */
export function fadedWeight(d: number): number {
  return FULL_WEIGHT * Math.max(0, 1 - Math.max(0, d) / FADED_AT);
}

/** Priors for a fit: only for components that are wanted and not yet seen well. The car on a loop has none. */
export function moderationFor(
  seen: SeenDegrees,
  values: Pick<Variances, 'car' | 'session' | 'residual'>,
): Moderation {
  const moderation: Moderation = {};
  for (const name of ['car', 'session', 'residual'] as const) {
    const d0 = fadedWeight(seen[name]);
    if (d0 > 0) moderation[name] = { d0, s2: values[name] };
  }
  return moderation;
}

/** Σ d0 (ln v + s0²/v), at variances in any unit as long as the priors are in the same. */
export function penalty(moderation: Moderation, v: Variances): number {
  let sum = 0;
  for (const name of COMPONENTS) {
    const prior = moderation[name];
    if (prior !== undefined) sum += prior.d0 * (Math.log(v[name]) + prior.s2 / v[name]);
  }
  return sum;
}

/** Score and information of the deviance with its penalty; 2·average − expected stays the observed one. */
export function withPriors(d: Derivatives, moderation: Moderation, v: Variances): Derivatives {
  const [score, scoreScale] = [d.score.slice(), d.scoreScale.slice()];
  const [expected, average] = [d.expected.slice(), d.average.slice()];
  COMPONENTS.forEach((name, j) => {
    const prior = moderation[name];
    if (prior === undefined) return;
    const x = v[name];
    const at = j * (COMPONENT_COUNT + 1);
    score[j] = (score[j] as number) + (prior.d0 / x) * (1 - prior.s2 / x);
    scoreScale[j] = (scoreScale[j] as number) + (prior.d0 / x) * (1 + prior.s2 / x);
    expected[at] = (expected[at] as number) + prior.d0 / (2 * x * x);
    average[at] = (average[at] as number) + (prior.d0 * prior.s2) / (2 * x * x * x);
  });
  return { ...d, score, scoreScale, expected, average };
}

/** The same priors in another unit of z. */
export function scalePriors(moderation: Moderation, scale: number): Moderation {
  return Object.fromEntries(
    Object.entries(moderation).map(([name, prior]) => [name, { ...prior, s2: prior.s2 / scale ** 2 }]),
  );
}
