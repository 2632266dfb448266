import {
  type Correlation,
  combinedU,
  type Derivatives,
  type Distribution,
  differentiate,
  interval95,
  type Scope,
  welchSatterthwaite,
} from './budget';
import { type CaseInputs, layOutCase } from './caseInputs';
import type { NormalisationCase } from './caseSchema';
import { INPUT_MEANINGS, INPUT_NAMES, type InputName, indexOfInput, type RetiredInputName } from './inputs';
import { PRIORS_VERSION } from './priors';
import type { ProfileFinding } from './profile';
import { type ReachReason, reasonsOutsideReach } from './reach';
import { adjustmentModel, OUT, OUTPUT_COUNT, type ReferenceConditions } from './roadLoad';

/**
 * Raised with any change that can move a published number; old results keep the version they were made under. What a
 * registry adopts beside it (learned road loads) is added to it there.
 */
export const METHOD_VERSION = `2+priors${PRIORS_VERSION}`;

export const STEP_NAMES = [
  'auxiliary',
  'elevation',
  'stops',
  'wind',
  'density',
  'rollingTemperature',
  'speed',
] as const;
export type StepName = (typeof STEP_NAMES)[number];

export interface AdjustmentStep {
  readonly name: StepName;
  readonly deltaWhPerKm: number;
  /** Consumption after the step over that before it. */
  readonly factor: number;
  readonly uWhPerKm: number;
}

export interface BudgetEntry {
  readonly input: InputName | RetiredInputName;
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly u: number;
  /** null when infinite. */
  readonly dof: number | null;
  readonly distribution: Distribution;
  readonly scope: Scope;
  /** ∂(normalised consumption)/∂input, signed. */
  readonly sensitivity: number;
  /** Standard uncertainty of the result from this input alone, not negative; wind carries its second order too. */
  readonly contributionWhPerKm: number;
  readonly shareOfVariance: number;
}

export interface ScaleFinding {
  readonly level: 'caution' | 'fail';
  readonly message: string;
}

export interface UncertaintyByScope {
  readonly run: number;
  readonly session: number;
  readonly car: number;
  readonly model: number;
  /** Absent in results of method version 1, which counted it among the model's. */
  readonly method?: number;
}

interface MeasuredPart {
  readonly methodVersion: string;
  readonly measuredWhPerKm: number;
  readonly uMeasuredWhPerKm: number;
  readonly reference: ReferenceConditions;
  readonly findings: readonly ProfileFinding[];
}

export interface NormalisedRun extends MeasuredPart {
  readonly outcome: 'normalised';
  readonly reach: { readonly ok: true };
  readonly normalisedWhPerKm: number;
  readonly scale: number;
  readonly scaleFinding: ScaleFinding | null;
  /** In the order applied; their sum is normalised − measured. */
  readonly steps: readonly AdjustmentStep[];
  /** Largest contribution first. */
  readonly budget: readonly BudgetEntry[];
  /** Between inputs of the budget, where the case states any. */
  readonly correlations?: NonNullable<NormalisationCase['correlations']>;
  readonly uWhPerKm: number;
  readonly relativeUncertainty: number;
  readonly effectiveDof: number;
  readonly interval95: readonly [number, number];
  readonly uByScope: UncertaintyByScope;
}

export interface RunOutsideReach extends MeasuredPart {
  readonly outcome: 'outsideReach';
  readonly reach: { readonly ok: false; readonly reasons: readonly ReachReason[] };
}

export type NormalisationResult = NormalisedRun | RunOutsideReach;

const SCALE_CAUTION: readonly [number, number] = [0.75, 1.35];
const SCALE_FAIL: readonly [number, number] = [0.5, 2];
const WIND_INPUTS = [indexOfInput('alongWindMps'), indexOfInput('crossWindMps')] as const;
const ENERGY = indexOfInput('energyWh');
const DISTANCE = indexOfInput('distanceM');

/**
 * Brings one run from its measured consumption to reference conditions, with the steps between and the budget of the
 * result (method A5 and A6: road load of SAE J1263 form, JCGM 100:2008 first-order uncertainty). Pure; the input must
 * have passed its schema. A run outside the method's reach yields reasons instead of a number.
 */
export function normaliseRun(input: NormalisationCase): NormalisationResult {
  const laidOut = layOutCase(input);
  const { x, u, profile, reference } = laidOut;
  const model = adjustmentModel(profile.source, laidOut.densitySource, reference, laidOut.falls);
  const distance = x[DISTANCE] as number;
  const energy = x[ENERGY] as number;
  const measured: MeasuredPart = {
    methodVersion: METHOD_VERSION,
    measuredWhPerKm: (1000 * energy) / distance,
    uMeasuredWhPerKm:
      ((1000 * energy) / distance) *
      Math.sqrt(((u[ENERGY] as number) / energy) ** 2 + ((u[DISTANCE] as number) / distance) ** 2),
    reference,
    findings: profile.finding === null ? [] : [profile.finding],
  };
  const reasons = reasonsOutsideReach(input.run, reference);
  if (reasons.length > 0) return outsideReach(measured, reasons);

  const derivatives = differentiate(model, x, u, OUTPUT_COUNT, OUT.normalised);
  const scale = derivatives.centre[OUT.scale] as number;
  if (!(scale > 0)) {
    return outsideReach(measured, [
      {
        code: 'noRoadLoad',
        message: 'Auxiliary power and climb alone exceed the energy measured: a reading or a unit is wrong.',
      },
    ]);
  }
  const result = withBudget(
    measured,
    laidOut,
    derivatives,
    scale,
    correlationsOf(input),
    input.run.windHoldsItsUncertainty === true ? [] : WIND_INPUTS,
  );
  if (result.interval95[0] <= 0) {
    return outsideReach(measured, [
      {
        code: 'belowZero',
        message:
          'The 95 % interval of the result reaches below zero, and no drive uses less than nothing: a reading or a unit is wrong, or stated far too uncertain.',
      },
    ]);
  }
  return input.correlations === undefined ? result : { ...result, correlations: input.correlations };
}

function withBudget(
  measured: MeasuredPart,
  laidOut: CaseInputs,
  derivatives: Derivatives,
  scale: number,
  correlations: readonly Correlation[],
  curved: readonly number[],
): NormalisedRun {
  const { x, u, dof, distributions, scopes } = laidOut;
  const { centre, first, shift } = derivatives;
  const count = x.length;
  const contributions = new Float64Array(count);
  const stepVariance = new Float64Array(OUTPUT_COUNT);
  const order: number[] = [];
  for (let i = 0; i < count; i++) {
    const ui = u[i] as number;
    if (ui === 0) continue;
    order.push(i);
    const row = i * OUTPUT_COUNT;
    contributions[i] = (first[row + OUT.normalised] as number) * ui;
    for (let column = OUT.auxiliary; column <= OUT.speed; column++) {
      const part = (first[row + column] as number) * ui;
      stepVariance[column] = (stepVariance[column] as number) + part * part;
    }
  }
  // Drag is quadratic in wind, so at calm the first order sees none of it. For f = k·w² the variance gains 2(k·u²)² and
  // the mean k·u², which is not corrected and so counts as uncertainty: 3(k·u²)² (JCGM 100:2008, 5.1.2 note, F.2.4.5).
  // A wind that already holds the expectation and the variance of its square is left alone: once is enough.
  for (const i of curved) {
    const linear = contributions[i] as number;
    const bend = shift[i] as number;
    contributions[i] = (linear < 0 ? -1 : 1) * Math.sqrt(linear * linear + 3 * bend * bend);
  }
  for (const { a, b, coefficient } of correlations) {
    const both = 2 * coefficient * (u[a] as number) * (u[b] as number);
    for (let column = OUT.auxiliary; column <= OUT.speed; column++) {
      const product =
        (first[a * OUTPUT_COUNT + column] as number) * (first[b * OUTPUT_COUNT + column] as number);
      stepVariance[column] = (stepVariance[column] as number) + both * product;
    }
  }
  const normalised = centre[OUT.normalised] as number;
  const uNormalised = combinedU(contributions, correlations);
  const effectiveDof = welchSatterthwaite(uNormalised, contributions, dof);

  const variance = { run: 0, session: 0, car: 0, model: 0, method: 0 };
  for (const i of order) variance[scopes[i] as Scope] += (contributions[i] as number) ** 2;
  for (const { a, b, coefficient } of correlations) {
    const both = 2 * coefficient * (contributions[a] as number) * (contributions[b] as number);
    variance[scopes[a] as Scope] += both;
  }
  sortBySize(order, contributions);
  const total = uNormalised * uNormalised;
  const budget = order.map((i): BudgetEntry => {
    const input = INPUT_NAMES[i] as InputName;
    const { label, unit } = INPUT_MEANINGS[input];
    const contribution = Math.abs(contributions[i] as number);
    const nu = dof[i] as number;
    return {
      input,
      label,
      unit,
      value: x[i] as number,
      u: u[i] as number,
      dof: nu === Number.POSITIVE_INFINITY ? null : nu,
      distribution: distributions[i] as Distribution,
      scope: scopes[i] as Scope,
      sensitivity: first[i * OUTPUT_COUNT + OUT.normalised] as number,
      contributionWhPerKm: contribution,
      shareOfVariance: total > 0 ? (contribution * contribution) / total : 0,
    };
  });

  let before = measured.measuredWhPerKm;
  const steps = STEP_NAMES.map((name): AdjustmentStep => {
    const column = OUT[name];
    const deltaWhPerKm = centre[column] as number;
    const factor = (before + deltaWhPerKm) / before;
    before += deltaWhPerKm;
    return { name, deltaWhPerKm, factor, uWhPerKm: Math.sqrt(Math.max(0, stepVariance[column] as number)) };
  });

  // written out: a spread here costs as much as all derivatives
  return {
    methodVersion: measured.methodVersion,
    measuredWhPerKm: measured.measuredWhPerKm,
    uMeasuredWhPerKm: measured.uMeasuredWhPerKm,
    reference: measured.reference,
    findings: measured.findings,
    outcome: 'normalised',
    reach: { ok: true },
    normalisedWhPerKm: normalised,
    scale,
    scaleFinding: judgeScale(scale),
    steps,
    budget,
    uWhPerKm: uNormalised,
    relativeUncertainty: uNormalised / normalised,
    effectiveDof,
    interval95: interval95(normalised, uNormalised, effectiveDof),
    uByScope: {
      run: Math.sqrt(Math.max(0, variance.run)),
      session: Math.sqrt(Math.max(0, variance.session)),
      car: Math.sqrt(Math.max(0, variance.car)),
      model: Math.sqrt(Math.max(0, variance.model)),
      method: Math.sqrt(Math.max(0, variance.method)),
    },
  };
}

/** Insertion sort, largest first: two dozen numbers, most of them already near their place from run to run. */
function sortBySize(order: number[], contributions: Float64Array): void {
  for (let k = 1; k < order.length; k++) {
    const moving = order[k] as number;
    const size = Math.abs(contributions[moving] as number);
    let at = k;
    while (at > 0 && Math.abs(contributions[order[at - 1] as number] as number) < size) {
      order[at] = order[at - 1] as number;
      at--;
    }
    order[at] = moving;
  }
}

/** A scale of the road load far from 1 means that a reading or the car's data is wrong (limits are the method's own). */
export function judgeScale(scale: number): ScaleFinding | null {
  const outside = ([low, high]: readonly [number, number]) => scale < low || scale > high;
  if (!outside(SCALE_CAUTION)) return null;
  const level = outside(SCALE_FAIL) ? 'fail' : 'caution';
  const limits = level === 'fail' ? SCALE_FAIL : SCALE_CAUTION;
  return {
    level,
    message: `The measured road load is ${scale.toFixed(2)} times that of the car's data, outside ${limits[0]} to ${limits[1]}: check the readings, the mass and the car's drag and rolling values.`,
  };
}

/** The stated correlations by position in the model's vector. */
export function correlationsOf(input: NormalisationCase): Correlation[] {
  return (input.correlations ?? []).map(({ inputs, coefficient }) => ({
    a: indexOfInput(inputs[0]),
    b: indexOfInput(inputs[1]),
    coefficient,
  }));
}

function outsideReach(measured: MeasuredPart, reasons: readonly ReachReason[]): RunOutsideReach {
  return { ...measured, outcome: 'outsideReach', reach: { ok: false, reasons } };
}
