import type { ContrastKind } from './groupFit';
import { type Scope, type SharedPart, sharedUncertaintyOfDifference } from './scopes';

/** A run with what its result has in common with others. */
export interface SharingRun {
  setupId: string;
  sessionId: string;
  carId: string;
  loopId: string;
  /** Of every scope. */
  parts: readonly SharedPart[];
}

interface WeightedRun {
  run: SharingRun;
  weight: number;
}

/** Standard uncertainty of the difference of two setups from what runs share, log scale; by how the two are joined. */
export type SharedUncertainty = (setupA: string, setupB: string, kind: ContrastKind) => number;

/**
 * Where cars drove both setups the difference rests on those cars, or on the sessions that hold both: there each
 * session (or car on a loop) counts as its runs of both sides allow, n_a·n_b/(n_a + n_b), and what it shares cancels
 * but for unequal sensitivities. Elsewhere it is that of the means over all runs of each side.
 */
export function sharedUncertainties(runs: readonly SharingRun[]): SharedUncertainty {
  const bySetup = groupBySetup(runs);
  const overall = sharedPartsBySetup(runs);
  return (setupA, setupB, kind) => {
    const a = bySetup.get(setupA) ?? [];
    const b = bySetup.get(setupB) ?? [];
    const matched = kind === 'session' || kind === 'car' ? match(a, b, kind) : undefined;
    return matched === undefined
      ? sharedUncertaintyOfDifference(overall.get(setupA) ?? [], overall.get(setupB) ?? [])
      : sharedUncertaintyOfDifference(
          weightedParts(matched.a, OUTSIDE_THE_FIT),
          weightedParts(matched.b, OUTSIDE_THE_FIT),
        );
  };
}

/** The runs of both sides in the sessions, or cars on a loop, that hold both; undefined where there are none. */
function match(
  a: readonly SharingRun[],
  b: readonly SharingRun[],
  kind: 'session' | 'car',
): { a: WeightedRun[]; b: WeightedRun[] } | undefined {
  const keyOfRun = (run: SharingRun) =>
    kind === 'session' ? run.sessionId : `${run.carId} on ${run.loopId}`;
  const count = (of: readonly SharingRun[]) => {
    const counts = new Map<string, number>();
    for (const run of of) counts.set(keyOfRun(run), (counts.get(keyOfRun(run)) ?? 0) + 1);
    return counts;
  };
  const [inA, inB] = [count(a), count(b)];
  const weights = new Map<string, number>();
  let sum = 0;
  for (const [key, n] of inA) {
    const m = inB.get(key);
    if (m === undefined) continue;
    weights.set(key, (n * m) / (n + m));
    sum += (n * m) / (n + m);
  }
  if (sum === 0) return undefined;
  const weigh = (of: readonly SharingRun[], counts: ReadonlyMap<string, number>) =>
    of.flatMap((run) => {
      const weight = weights.get(keyOfRun(run));
      const n = counts.get(keyOfRun(run)) ?? 1;
      return weight === undefined ? [] : [{ run, weight: weight / sum / n }];
    });
  return { a: weigh(a, inA), b: weigh(b, inB) };
}

/**
 * What a session shares differs from one session to the next and so is in the session variance that the fit estimates
 * (method A6): beside the interval it would count twice.
 */
const OUTSIDE_THE_FIT: readonly Scope[] = ['car', 'model', 'method'];

/**
 * Per setup the signed contributions of its shared inputs to ln of its mean, over all of its runs: a run's part
 * counts 1/n, so that parts of one key add up and parts of different keys average out (JCGM 100:2008, 5.2).
 */
export function sharedPartsBySetup(
  runs: readonly SharingRun[],
  scopes: readonly Scope[] = OUTSIDE_THE_FIT,
): Map<string, SharedPart[]> {
  return new Map(
    [...groupBySetup(runs)].map(([setupId, of]) => [
      setupId,
      weightedParts(
        of.map((run) => ({ run, weight: 1 / of.length })),
        scopes,
      ),
    ]),
  );
}

function groupBySetup(runs: readonly SharingRun[]): Map<string, SharingRun[]> {
  const bySetup = new Map<string, SharingRun[]>();
  for (const run of runs) {
    const of = bySetup.get(run.setupId);
    if (of === undefined) bySetup.set(run.setupId, [run]);
    else of.push(run);
  }
  return bySetup;
}

function weightedParts(runs: readonly WeightedRun[], scopes: readonly Scope[]): SharedPart[] {
  const sums = new Map<string, SharedPart>();
  for (const { run, weight } of runs) {
    for (const part of run.parts) {
      if (!scopes.includes(part.scope)) continue;
      const contribution = weight * part.contribution;
      const name = `${part.input} ${part.scope} ${part.key}`;
      const known = sums.get(name);
      if (known === undefined) sums.set(name, { ...part, contribution });
      else known.contribution += contribution;
    }
  }
  return [...sums.values()];
}
