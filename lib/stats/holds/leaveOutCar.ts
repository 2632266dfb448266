import { COMPONENTS, type Variances } from '../accumulate';
import { type CarPart, carPart } from '../carParts';
import { HeldEquations, type SolvedGroup } from '../heldEquations';
import { satterthwaiteDf } from '../satterthwaite';
import type { Observation } from '../structure';
import type { UsedComponents } from './predictInTurn';
import type { Innovation } from './predictSession';

/** A car's level against what all the other cars let expect of a car of its model. */
export interface LeftOutCar {
  car: string;
  /** The car's level less that of the others, ln. */
  level: number;
  innovation: Innovation;
}

const STEP = 1e-4;

/**
 * The level of each car predicted from the others, at components that are held. With M_t = X_t'V_t⁻¹X_t, r_t of the car
 * and β, Σ from the rest,
 *   d = 1'(r_t − M_tβ),  variance 1'M_t1 + 1'M_tΣM_t1,
 * since every run has one setup and X_t1 = 1: the generalised least squares mean of its residuals is d/(1'M_t1). This
 * asks of the variance between cars, of which sessions of known cars tell little. The components have seen the car, so
 * it is a little too easily inside.
 */
export function leaveOutCars(runs: readonly Observation[], used: UsedComponents): LeftOutCar[] {
  const equations = new HeldEquations(runs, used.components);
  const ofCar = new Map<string, Observation[]>();
  for (const run of runs) {
    const own = ofCar.get(run.car);
    if (own === undefined) ofCar.set(run.car, [run]);
    else own.push(run);
  }
  return equations.parts.flatMap((part): LeftOutCar[] => {
    const rest = equations.without(equations.groupOf(part), new Set([part.car]));
    if (rest === undefined) return [];
    const own = (ofCar.get(part.car) ?? []).filter((run) => rest.setups.includes(run.setup));
    if (own.length === 0) return [];
    const { base } = part.problem;
    const of = (v: Variances) => levelOf(carPart(own, v, base), rest);
    const { d, weight, variance } = of(part.v);
    const { car, carLoop, session, residual } = part.v;
    const step = STEP * (car + carLoop + session + residual);
    // In terms of the level, 1/(1'M_t1), so that a change of weights is no change of variance.
    const alone = 1 / weight;
    const gradient = COMPONENTS.map(
      (name) => (1 / of({ ...part.v, [name]: part.v[name] + step }).weight - alone) / step,
    );
    const df = Math.max(1, satterthwaiteDf(alone, gradient, used.covariance));
    return [{ car: part.car, level: d / weight, innovation: { value: d / Math.sqrt(variance), df } }];
  });
}

function levelOf(part: CarPart, rest: SolvedGroup): { d: number; weight: number; variance: number } {
  const q = part.setups.length;
  const p = rest.setups.length;
  const at = part.setups.map((setup) => rest.setups.indexOf(setup));
  const sums = part.setups.map((_, i) => {
    let sum = 0;
    for (let j = 0; j < q; j++) sum += part.cross[i * q + j] as number;
    return sum;
  });
  const weight = sums.reduce((sum, x) => sum + x, 0);
  let [d, variance] = [0, weight];
  for (let i = 0; i < q; i++) {
    d += (part.right[i] as number) - (sums[i] as number) * (rest.effects[at[i] as number] as number);
    for (let j = 0; j < q; j++) {
      const covariance = rest.covariance[(at[i] as number) * p + (at[j] as number)] as number;
      variance += (sums[i] as number) * (sums[j] as number) * covariance;
    }
  }
  return { d, weight, variance };
}
