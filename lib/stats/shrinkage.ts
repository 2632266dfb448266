import type { Variances } from './accumulate';
import { sparseQuadratic, summariseCars } from './carSummaries';
import { evaluate } from './criterion';
import { prepareFor, toScaled } from './problem';
import { layOutRuns, type Observation } from './structure';

/** The predicted deviation of one car or session from the setups' effects, pulled toward 0. */
export interface ShrunkEffect {
  car: string;
  /** '' for the car itself. */
  session: string;
  /** Original units (ln Wh/km): negative uses less than the setups it drove would say. */
  effect: number;
  /** Standard error of prediction. */
  se: number;
  /** Share of the raw deviation that is kept: 0 nothing, 1 all. */
  kept: number;
}

/**
 * Best linear unbiased predictions of cars and sessions at given components:
 *   T̂ = v_T 1'V⁻¹e,  Ŝ = v_S 1'V⁻¹e,  prediction variance v − v²(1'V⁻¹1 − x'M⁻¹x), x = X'V⁻¹1.
 * Henderson C. R. (1975), Biometrics 31, 423; Robinson G. K. (1991), Statistical Science 6, 15.
 */
export function shrunkEffects(
  runs: readonly Observation[],
  components: Variances,
): { cars: ShrunkEffect[]; sessions: ShrunkEffect[] } {
  const structure = layOutRuns(runs);
  const problem = prepareFor(structure, components);
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const carNames = [...structure.carIndex.keys()];
  const sessionNames = [...structure.sessionIndex.keys()].map((key) =>
    key.slice(key.lastIndexOf('\u0000') + 1),
  );
  const cars: ShrunkEffect[] = [];
  const sessions: ShrunkEffect[] = [];
  const shrink = (
    car: string,
    session: string,
    score: number,
    own: number,
    lost: number,
    variance: number,
  ) => ({
    car,
    session,
    effect: problem.scale * variance * score,
    se: problem.scale * Math.sqrt(Math.max(0, variance - variance * variance * (own - lost))),
    kept: variance * own,
  });
  for (const car of summariseCars(problem, at)) {
    const name = carNames[car.index] as string;
    const x = new Map([...car.C].map(([k, value]) => [k, value / car.F]));
    cars.push(shrink(name, '', car.R / car.F, car.A / car.F, sparseQuadratic(problem, at, x), v.car));
    for (const session of car.sessions) {
      const { alpha, f, r, c } = session;
      const side = new Map([...car.C].map(([k, value]) => [k, -car.h * alpha * value]));
      for (const [k, value] of c) side.set(k, (side.get(k) ?? 0) + value / f);
      const own = alpha - car.h * alpha * alpha;
      sessions.push(
        shrink(
          name,
          sessionNames[session.index] as string,
          r / f - car.h * alpha * car.R,
          own,
          sparseQuadratic(problem, at, side),
          v.session,
        ),
      );
    }
  }
  return { cars, sessions };
}
