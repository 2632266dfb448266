import type { Variances } from './accumulate';
import { evaluate } from './criterion';
import { cellResiduals, knowPath, predictEffects, sparseQuadratic, weighTree } from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { layOutRuns, type Observation } from './structure';

/** The predicted deviation of one car, car on a loop or session from the setups' effects, pulled toward 0. */
export interface ShrunkEffect {
  car: string;
  /** '' for the car itself. */
  loop: string;
  /** '' for the car or the car on a loop. */
  session: string;
  /** Original units (ln Wh/km): negative uses less than the setups it drove would say. */
  effect: number;
  /** Standard error of prediction. */
  se: number;
  /** Share kept of a deviation that all runs of the car have in common: 0 nothing, 1 all. */
  kept: number;
}

export interface ShrunkEffects {
  cars: ShrunkEffect[];
  /** Car and loop together: what the car's runs on this loop have in common. */
  carsOnLoops: ShrunkEffect[];
  /** The session's own, on top of its car on a loop. */
  sessions: ShrunkEffect[];
}

/**
 * Best linear unbiased predictions of cars, cars on a loop and sessions at given components; the variance of a
 * prediction is that for known setup effects and what their estimation adds, x'M⁻¹x with x the share that the
 * prediction takes of each setup's effect. Robinson G. K. (1991), Statistical Science 6, 15.
 */
export function shrunkEffects(runs: readonly Observation[], components: Variances): ShrunkEffects {
  const structure = layOutRuns(runs);
  const problem = prepareFor(structure, components);
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const tree = weighTree(problem, v);
  const effects = predictEffects(tree, cellResiduals(problem, at));
  const shrunk = (
    key: string,
    effect: number,
    known: { variance: number; toward: ReadonlyMap<number, number>; kept: number },
  ): ShrunkEffect => {
    const [car = '', loop = '', session = ''] = key.split('\u0000');
    const variance = known.variance + sparseQuadratic(problem, at, known.toward);
    return {
      car,
      loop,
      session,
      effect: problem.scale * effect,
      se: problem.scale * Math.sqrt(Math.max(0, variance)),
      kept: known.kept,
    };
  };
  const onLoop = (l: number) => knowPath(tree, { car: tree.carOfLoop[l] as number, loop: l, session: null });
  return {
    cars: [...structure.carIndex].map(([key, t]) =>
      shrunk(key, effects.car[t] as number, knowPath(tree, { car: t, loop: null, session: null })),
    ),
    carsOnLoops: [...structure.loopIndex].map(([key, l]) => {
      const ofCar = effects.car[tree.carOfLoop[l] as number] as number;
      return shrunk(key, ofCar + (effects.loop[l] as number), onLoop(l));
    }),
    sessions: [...structure.sessionIndex].map(([key, ses]) => {
      const l = tree.loopOfSession[ses] as number;
      const above = onLoop(l);
      const whole = knowPath(tree, { car: tree.carOfLoop[l] as number, loop: l, session: ses });
      // S = (T + C + S) − (T + C); given T + C its prediction takes v_S a/f of it back.
      const back = (v.session * (tree.a[ses] as number)) / (tree.f[ses] as number);
      const toward = new Map(whole.toward);
      for (const [k, share] of above.toward) toward.set(k, (toward.get(k) ?? 0) - share);
      return shrunk(key, effects.session[ses] as number, {
        variance: v.session / (tree.f[ses] as number) + back * back * above.variance,
        toward,
        kept: whole.kept - above.kept,
      });
    }),
  };
}
