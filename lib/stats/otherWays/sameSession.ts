import type { Variances } from '../accumulate';
import type { HeldDifference } from '../heldEquations';
import { nestedKey, type Observation } from '../structure';

interface Side {
  weight: number;
  sum: number;
}

/** The means of a class's sessions by setup, weighted by w = 1/(v + u²). */
export class SameSession {
  private readonly sessions = new Map<string, Map<string, Side>>();
  /** The sessions of each setup. */
  private readonly ofSetup = new Map<string, Set<string>>();

  constructor(runs: readonly Observation[], components: Variances) {
    for (const run of runs) {
      const key = nestedKey(run.car, run.loop ?? '', run.session);
      const weight = 1 / (components.residual + run.u * run.u);
      if (!Number.isFinite(weight)) continue;
      const sides = this.sessions.get(key) ?? new Map<string, Side>();
      this.sessions.set(key, sides);
      const side = sides.get(run.setup) ?? { weight: 0, sum: 0 };
      sides.set(run.setup, { weight: side.weight + weight, sum: side.sum + weight * run.z });
      const own = this.ofSetup.get(run.setup) ?? new Set();
      this.ofSetup.set(run.setup, own.add(key));
    }
  }

  /**
   * The difference from sessions alone in which both were driven: Σ d_j/h_j / Σ 1/h_j with d_j the difference of the two
   * means and h_j = 1/Σw_a + 1/Σw_b its variance; car, loop and day cancel inside each. Null without such a session.
   */
  differenceOf(a: string, b: string): HeldDifference | null {
    let [weight, sum] = [0, 0];
    for (const key of this.ofSetup.get(a) ?? []) {
      const sides = this.sessions.get(key);
      const [left, right] = [sides?.get(a), sides?.get(b)];
      if (left === undefined || right === undefined) continue;
      const own = 1 / (1 / left.weight + 1 / right.weight);
      weight += own;
      sum += own * (left.sum / left.weight - right.sum / right.weight);
    }
    return weight === 0 ? null : { difference: sum / weight, variance: 1 / weight };
  }
}
