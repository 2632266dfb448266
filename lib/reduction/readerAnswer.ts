import { consumptionAt } from '@/lib/physics/estimate/consumptionAt';
import { type EstimateRefusal, outsideEstimate } from '@/lib/physics/estimate/estimateReach';
import { type ReaderConditions, readerCase } from '@/lib/physics/estimate/readerCase';
import type { StepName } from '@/lib/physics/normalise';
import type { AdoptedTerms } from './adoptedTerms';
import { readerCar } from './readerCar';
import { type RunPart, readerParts } from './runParts';
import type { ReductionSnapshot } from './snapshot';

/** A setup and what the runs of one class say of it at reference conditions. */
export interface EstimatedSetup {
  readonly subject: Pick<ReductionSnapshot, 'model' | 'setup'>;
  /** The adopted road load's terms for it, where the method version in effect has any. */
  readonly learned: AdoptedTerms | undefined;
  /** ln(Wh/km). */
  readonly logMean: number;
  readonly classSpeedMps: number;
}

export interface ReaderAnswer {
  readonly refusal: null;
  readonly valueWhPerKm: number;
  /** What it starts from, and what each condition adds. */
  readonly referenceWhPerKm: number;
  readonly steps: readonly { readonly name: StepName; readonly deltaWhPerKm: number }[];
  /** As the joint uncertainty of several answers takes it: parts keyed as those of the runs in the fit. */
  readonly term: {
    readonly setup: string;
    readonly gain: number;
    readonly direct: readonly Pick<RunPart, 'key' | 'scope' | 'contribution'>[];
    readonly car: string;
  };
}

/** The reader's car, day and road are none of the registry's. */
const OF_THE_READER = {
  carId: 'the reader’s car',
  sessionId: 'the reader’s day',
  loopId: 'the reader’s road',
};

/**
 * One trip of a further car of the model in this setup, from the estimate at reference conditions to those asked (method
 * C3); what leaves the battery, not what a display shows. Refused outside the method's reach.
 */
export function readerAnswer(
  { subject, learned, logMean, classSpeedMps }: EstimatedSetup,
  conditions: ReaderConditions,
  loadKg: number | undefined,
): ReaderAnswer | { readonly refusal: EstimateRefusal } {
  const car = readerCar(subject, learned, loadKg);
  const referenceWhPerKm = Math.exp(logMean);
  const refusal = outsideEstimate(car, conditions, classSpeedMps, referenceWhPerKm);
  if (refusal !== null) return { refusal };
  const at = consumptionAt(readerCase(car, conditions, classSpeedMps), referenceWhPerKm, 'drawn');
  const owners = { ...OF_THE_READER, modelId: subject.model.id, setupId: subject.setup.id };
  const parts = readerParts(owners, at, true);
  return {
    refusal: null,
    valueWhPerKm: at.valueWhPerKm,
    referenceWhPerKm,
    steps: at.steps,
    term: {
      setup: subject.setup.id,
      gain: at.gain,
      direct: parts.map(({ input, key, ...part }) => ({ ...part, key: `${input} of ${key}` })),
      car: OF_THE_READER.carId,
    },
  };
}
