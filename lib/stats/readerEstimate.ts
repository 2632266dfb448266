import { COMPONENT_COUNT, COMPONENTS } from './accumulate';
import type { GroupFit } from './groupFit';
import { satterthwaiteDf } from './satterthwaite';
import type { SharedContribution } from './scopes';

/** Of a fit, what an estimate for a reader takes. */
export type ReaderFit = Pick<
  GroupFit,
  'setups' | 'components' | 'componentCovariance' | 'covariance' | 'sharedEffects' | 'dfTerms' | 'spreadRatio'
>;

/** One answer ln e(x) for a setup under a reader's conditions. */
export interface ReaderAnswer {
  readonly setup: string;
  /** J = ∂ln e(x)/∂β: by how much a deviation at reference conditions shows under these. */
  readonly gain: number;
  /** u_q·∂ln e(x)/∂q at fixed β, keyed as the runs' own parts are. */
  readonly direct: readonly SharedContribution[];
  /** Answers of one name are of one car, on one day and trip. */
  readonly car: string;
}

export interface ReaderVariance {
  readonly u: number;
  readonly df: number;
  /** Variances that add up to u²: of the fit, of car, loop, day and trip, and of what is assumed of all of them. */
  readonly parts: {
    readonly fit: number;
    readonly car: number;
    readonly carLoop: number;
    readonly session: number;
    readonly run: number;
    /** Model and method, with what stands behind β and the conditions alike cancelled. */
    readonly shared: number;
    /** Car and day. */
    readonly ofReader: number;
  };
  /** `shared` and `ofReader` input by input; keys as the runs' own parts are. */
  readonly inputs: readonly { readonly key: string; readonly variance: number }[];
}

/**
 * Standard uncertainty and degrees of freedom of Σ weight · ln e(x) (method C3), with L = weight · J by setup and every
 * draw of car, loop, day, trip and shared input the same in all answers of one car:
 *
 *   L'Φ_A L + Σ_cars (Σ weight·J)²·(v_T + v_C + v_S [+ v])
 *     + Σ_q of model, method (Σ weight·(J·λ_q + u_q ∂ln e/∂q))² + Σ_q of car, session (Σ weight·u_q ∂ln e/∂q)²
 *
 * The same error of a shared input stands behind β and the conditions, so it is added before it is squared (JCGM
 * 100:2008, 5.2.2 with correlation 1) and cancels at a run's own conditions. Degrees of freedom by Satterthwaite,
 * 2·(total)²/g'Ag with g_j = ∂(L'M⁻¹L)/∂v_j + (Σ weight·J)²; where the fit did not keep ∂M⁻¹/∂v, a bound below them.
 *
 * @param oneTrip a single trip of the car, else its mean over many trips of one day
 */
export function readerVariance(
  fit: ReaderFit,
  terms: readonly { readonly weight: number; readonly answer: ReaderAnswer }[],
  oneTrip: boolean,
): ReaderVariance {
  const l = new Float64Array(fit.setups.length);
  const byCar = new Map<string, number>();
  for (const { weight, answer } of terms) {
    const at = fit.setups.indexOf(answer.setup);
    if (at < 0) throw new RangeError(`the fit has no setup ${answer.setup}`);
    l[at] = (l[at] as number) + weight * answer.gain;
    byCar.set(answer.car, (byCar.get(answer.car) ?? 0) + weight * answer.gain);
  }
  const { shared, ofReader, ofBeta, inputs } = assumedParts(fit, terms, l);
  const fitted = Math.max(0, quadratic((i, j) => fit.covariance[i]?.[j] ?? 0, l) - ofBeta);
  const sumOfSquares = [...byCar.values()].reduce((sum, x) => sum + x * x, 0);
  const draws = COMPONENTS.map((name) => (name === 'residual' && !oneTrip ? 0 : sumOfSquares));
  const [car = 0, carLoop = 0, session = 0, run = 0] = COMPONENTS.map(
    (name, j) => (draws[j] as number) * fit.components[name],
  );
  const total = fitted + car + carLoop + session + run + shared + ofReader;
  return {
    u: Math.sqrt(total),
    df: degreesOfFreedom(fit, l, draws, fitted, total),
    parts: { fit: fitted, car, carLoop, session, run, shared, ofReader },
    inputs,
  };
}

/** What is assumed, joined by key, and λ'λ alone, which the fit's total covariance holds already. */
function assumedParts(
  fit: ReaderFit,
  terms: readonly { readonly weight: number; readonly answer: ReaderAnswer }[],
  l: Float64Array,
): Pick<ReaderVariance['parts'], 'shared' | 'ofReader'> &
  Pick<ReaderVariance, 'inputs'> & { ofBeta: number } {
  const joint = new Map<string, Joined>();
  let ofBeta = 0;
  for (const { scope, key, effects } of fit.sharedEffects) {
    const moved = effects.reduce((sum, lambda, i) => sum + lambda * (l[i] as number), 0);
    ofBeta += moved * moved;
    joint.set(`${scope} ${key}`, { key, sum: moved });
  }
  const own = new Map<string, Joined>();
  for (const { weight, answer } of terms) {
    for (const { scope, key, contribution } of answer.direct) {
      const isOwn = scope === 'car' || scope === 'session';
      const [sums, name] = isOwn ? [own, `${scope} ${key} of ${answer.car}`] : [joint, `${scope} ${key}`];
      sums.set(name, { key, sum: (sums.get(name)?.sum ?? 0) + weight * contribution });
    }
  }
  const squares = (sums: Map<string, Joined>) =>
    [...sums.values()].map(({ key, sum }) => ({ key, variance: sum * sum }));
  const [shared, ofReader] = [squares(joint), squares(own)];
  const total = (of: typeof shared) => of.reduce((sum, { variance }) => sum + variance, 0);
  return { shared: total(shared), ofReader: total(ofReader), ofBeta, inputs: [...shared, ...ofReader] };
}

interface Joined {
  readonly key: string;
  readonly sum: number;
}

function degreesOfFreedom(
  fit: ReaderFit,
  l: Float64Array,
  draws: readonly number[],
  fitted: number,
  total: number,
): number {
  if (fit.dfTerms !== null) {
    const { sensitivities, componentCovariance } = fit.dfTerms;
    const m = fit.setups.length;
    const gradient = draws.map(
      (drawn, j) => drawn + quadratic((i, k) => sensitivities[j]?.[i * m + k] ?? 0, l),
    );
    return satterthwaiteDf(total, gradient, Float64Array.from(componentCovariance.flat()));
  }
  // M⁻¹ is of first degree in the variances, so that v_j·∂(L'M⁻¹L)/∂v_j are not negative and sum to L'M⁻¹L at most: the
  // quadratic form is convex in them and largest at a corner; of the fitted part L'M⁻¹L is no larger a multiple than this
  const most = fitted * fit.spreadRatio;
  const a = Float64Array.from(fit.componentCovariance.flat());
  if (a.length !== COMPONENT_COUNT ** 2) return 0;
  return COMPONENTS.reduce(
    (least, name, corner) => {
      const v = fit.components[name];
      if (!(v > 0)) return least;
      const gradient = draws.map((drawn, j) => drawn + (j === corner ? most / v : 0));
      return Math.min(least, satterthwaiteDf(total, gradient, a));
    },
    satterthwaiteDf(total, draws, a),
  );
}

function quadratic(at: (i: number, j: number) => number, l: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < l.length; i++) {
    const x = l[i] as number;
    if (x === 0) continue;
    for (let j = 0; j < l.length; j++) {
      const y = l[j] as number;
      if (y !== 0) sum += x * y * at(i, j);
    }
  }
  return sum;
}
