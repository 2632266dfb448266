import { differentiate, type VectorModel } from '../budget';
import { layOutCase } from '../caseInputs';
import type { NormalisationCase } from '../caseSchema';
import { INPUT_MEANINGS, INPUT_NAMES, type InputName, indexOfInput } from '../inputs';
import { type BudgetEntry, STEP_NAMES, type StepName } from '../normalise';
import { adjustmentModel, OUT, OUTPUT_COUNT } from '../roadLoad';

/**
 * Consumption under stated conditions from that at reference conditions: the adjustment of a run (roadLoad.ts) run
 * backwards, so that there is one road load and one table of priors. The adjusted consumption is affine in the energy
 * drawn, N(E) = a + b·E, because the road load is scaled to it: s = (e − aux − grade)/(aero + rolling + stops) and
 * N = s·(aero + rolling)_ref + aux_ref. So the energy that belongs to e_ref is E = (e_ref − a)/b, exactly.
 */
export interface ConsumptionAt {
  readonly valueWhPerKm: number;
  /**
   * J = ∂ln e/∂ln e_ref. It is 1 where auxiliary power and climb are those of reference conditions and below 1 where
   * more of the energy goes into them: what a car deviates by scales its road load, not its heating.
   */
  readonly gain: number;
  /** Scale of the road load, as of a run. */
  readonly scale: number;
  /** What each condition adds, from reference to those stated; their sum is the value less e_ref. */
  readonly steps: readonly { readonly name: StepName; readonly deltaWhPerKm: number }[];
  /**
   * ∂e/∂input at fixed e_ref, with u and scope, of every input that is uncertain. Of the inputs that the method and the
   * model share, the same error stands behind e_ref with the opposite sign.
   */
  readonly budget: readonly BudgetEntry[];
  readonly correlations?: NonNullable<NormalisationCase['correlations']>;
}

/**
 * `shown`: what the car's display would show, so that the model's scale of displays stands behind e_ref and the answer
 * alike and cancels. `drawn`: what leaves the battery, which a range is reckoned from; there it does not. The car's own
 * scale is in the variance between cars in both cases and is not counted again.
 */
export type EnergySense = 'shown' | 'drawn';

const ENERGY = indexOfInput('energyWh');
const DISTANCE = indexOfInput('distanceM');
const SCALE_MODEL = indexOfInput('displayScaleOfModelShare');
const SCALE_CAR = indexOfInput('displayScaleOfCarShare');
/** Two energies to find the straight line from: any two do. */
const [FIRST_WH_PER_KM, SECOND_WH_PER_KM] = [100, 300];

/**
 * @param conditions a case as of a run; the energy in it is not read, and its wind must hold its own uncertainty
 * @param referenceWhPerKm above 0, at the case's reference
 */
export function consumptionAt(
  conditions: NormalisationCase,
  referenceWhPerKm: number,
  sense: EnergySense,
): ConsumptionAt {
  if (!(referenceWhPerKm > 0)) throw new RangeError('a consumption at reference conditions is above zero');
  const laidOut = layOutCase(conditions);
  const { x, u, dof, distributions, scopes } = laidOut;
  u[ENERGY] = 0;
  u[SCALE_CAR] = 0;
  if (sense === 'drawn') u[SCALE_MODEL] = 0;
  const adjust = adjustmentModel(
    laidOut.profile.source,
    laidOut.densitySource,
    laidOut.reference,
    laidOut.falls,
  );
  const outputs = new Float64Array(OUTPUT_COUNT);
  const normalisedFrom = (whPerKm: number, inputs: Float64Array): number => {
    inputs[ENERGY] = (whPerKm * (inputs[DISTANCE] as number)) / 1000;
    adjust(inputs, outputs);
    return outputs[OUT.normalised] as number;
  };
  let slope = Number.NaN;
  const backwards: VectorModel = (inputs, out) => {
    const low = normalisedFrom(FIRST_WH_PER_KM, inputs);
    const high = normalisedFrom(SECOND_WH_PER_KM, inputs);
    slope = (high - low) / (SECOND_WH_PER_KM - FIRST_WH_PER_KM);
    out[0] = FIRST_WH_PER_KM + (referenceWhPerKm - low) / slope;
  };
  const { centre, first } = differentiate(backwards, x, u, 1);
  const valueWhPerKm = centre[0] as number;
  backwards(x, centre);
  normalisedFrom(valueWhPerKm, x);
  const total = first.reduce((sum, c, i) => sum + (c * (u[i] as number)) ** 2, 0);
  const budget: BudgetEntry[] = [];
  for (let i = 0; i < x.length; i++) {
    const ui = u[i] as number;
    if (ui === 0) continue;
    const input = INPUT_NAMES[i] as InputName;
    const sensitivity = first[i] as number;
    const degrees = dof[i] as number;
    budget.push({
      input,
      label: INPUT_MEANINGS[input].label,
      unit: INPUT_MEANINGS[input].unit,
      value: x[i] as number,
      u: ui,
      dof: degrees === Number.POSITIVE_INFINITY ? null : degrees,
      distribution: distributions[i] ?? 'normal',
      scope: scopes[i] ?? INPUT_MEANINGS[input].scope,
      sensitivity,
      contributionWhPerKm: Math.abs(sensitivity * ui),
      shareOfVariance: total > 0 ? (sensitivity * ui) ** 2 / total : 0,
    });
  }
  budget.sort((a, b) => b.contributionWhPerKm - a.contributionWhPerKm);
  return {
    valueWhPerKm,
    gain: referenceWhPerKm / (valueWhPerKm * slope),
    scale: outputs[OUT.scale] as number,
    // the adjustment takes away what the conditions added
    steps: STEP_NAMES.map((name) => ({ name, deltaWhPerKm: -(outputs[OUT[name]] as number) })).reverse(),
    budget,
    ...(conditions.correlations === undefined ? {} : { correlations: conditions.correlations }),
  };
}
