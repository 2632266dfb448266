import type { NormalisationResult } from '@/lib/physics/normalise';
import { DRAG_AREA_PRIORS, ROLLING_PRIORS } from '@/lib/physics/priors';
import type { AdoptedTerms } from './adoptedTerms';
import type { ReductionSnapshot } from './snapshot';
import { tyresOf } from './tyresOf';

/** Where a value of the car comes from that the engine was given. */
export interface ValueSource {
  /** A car's own value goes before what its model learned, that before its model's, and that before the priors. */
  of: 'car' | 'learned' | 'model' | 'prior';
  words: string;
}

export type ValueSources = Record<'massKg' | 'dragAreaM2' | 'rollingCoefficient', ValueSource> & {
  /** Only a coast-down has a term that grows with speed. */
  linearRollingNPerMps?: ValueSource;
};

const IN_LABEL = {
  car: 'this car’s own',
  learned: 'learned from the model’s runs',
  model: 'of the model',
  prior: 'prior',
} as const;

export function valueSources(
  snapshot: Pick<ReductionSnapshot, 'car' | 'model' | 'setup'>,
  learned: AdoptedTerms | undefined,
): ValueSources {
  const { car, model } = snapshot;
  const own: ValueSource = { of: 'car', words: car.ownValuesSource ?? 'stated by the car’s owner' };
  const massKg: ValueSource =
    car.registeredMassKg === null
      ? { of: 'model', words: 'kerb mass of the model, and load' }
      : { of: 'car', words: 'registered mass of this car, and load' };
  if (car.coastDown !== null) {
    const coastDown: ValueSource = { of: 'car', words: `coast-down of this car: ${own.words}` };
    return {
      massKg,
      dragAreaM2: coastDown,
      rollingCoefficient: coastDown,
      linearRollingNPerMps: coastDown,
    };
  }
  return {
    massKg,
    dragAreaM2:
      car.dragAreaM2 !== null
        ? own
        : learned !== undefined
          ? { of: 'learned', words: learned.words }
          : model.dragAreaM2 !== null
            ? { of: 'model', words: model.dragAreaSource ?? 'stated with the model' }
            : { of: 'prior', words: DRAG_AREA_PRIORS[model.bodyClass].label },
    rollingCoefficient:
      car.rollingCoefficient !== null
        ? own
        : learned !== undefined
          ? { of: 'learned', words: learned.words }
          : { of: 'prior', words: ROLLING_PRIORS[tyresOf(snapshot)].label },
  };
}

/** The same result with the sources named in the labels of its budget. */
export function nameSources(result: NormalisationResult, sources: ValueSources): NormalisationResult {
  if (result.outcome !== 'normalised') return result;
  const byInput = new Map<string, ValueSource>(Object.entries(sources));
  return {
    ...result,
    budget: result.budget.map((entry) => {
      const source = byInput.get(entry.input);
      return source === undefined ? entry : { ...entry, label: `${entry.label} (${IN_LABEL[source.of]})` };
    }),
  };
}
