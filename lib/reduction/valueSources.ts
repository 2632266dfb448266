import type { CoastDownCoefficients } from '@/lib/physics/coastDown';
import type { NormalisationResult } from '@/lib/physics/normalise';
import { type BodyClass, DRAG_AREA_PRIORS, ROLLING_PRIORS, type TyreKind } from '@/lib/physics/priors';
import type { AdoptedTerms } from './adoptedTerms';

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

/** What a car's owner states of it; null where nothing is. */
interface OwnValues {
  registeredMassKg: number | null;
  dragAreaM2: number | null;
  rollingCoefficient: number | null;
  coastDownF0N: number | null;
  coastDownF1NPerKmh: number | null;
  coastDownF2NPerKmh2: number | null;
  ownValuesSource: string | null;
}

const IN_LABEL = {
  car: 'this car’s own',
  learned: 'learned from the model’s runs',
  model: 'of the model',
  prior: 'prior',
} as const;

export function valueSources(
  car: OwnValues & {
    model: { dragAreaM2: number | null; dragAreaSource: string | null; bodyClass: BodyClass };
  },
  tyreKind: TyreKind,
  learned?: AdoptedTerms,
): ValueSources {
  const { model } = car;
  const own: ValueSource = { of: 'car', words: car.ownValuesSource ?? 'stated by the car’s owner' };
  const massKg: ValueSource =
    car.registeredMassKg === null
      ? { of: 'model', words: 'kerb mass of the model, and load' }
      : { of: 'car', words: 'registered mass of this car, and load' };
  if (coastDownOf(car) !== undefined) {
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
        : learned?.dragAreaM2 !== undefined
          ? { of: 'learned', words: learned.words }
          : model.dragAreaM2 !== null
            ? { of: 'model', words: model.dragAreaSource ?? 'stated with the model' }
            : { of: 'prior', words: DRAG_AREA_PRIORS[model.bodyClass].label },
    rollingCoefficient:
      car.rollingCoefficient !== null
        ? own
        : learned?.rollingCoefficient !== undefined
          ? { of: 'learned', words: learned.words }
          : { of: 'prior', words: ROLLING_PRIORS[tyreKind].label },
  };
}

/** The coast-down coefficients of a car of which all three are known. */
export function coastDownOf(car: OwnValues): CoastDownCoefficients | undefined {
  const { coastDownF0N: f0N, coastDownF1NPerKmh: f1NPerKmh, coastDownF2NPerKmh2: f2NPerKmh2 } = car;
  return f0N === null || f1NPerKmh === null || f2NPerKmh2 === null
    ? undefined
    : { f0N, f1NPerKmh, f2NPerKmh2 };
}

/** The same result with the sources named in the labels of its budget. */
export function nameSources(result: NormalisationResult, sources: ValueSources): NormalisationResult {
  if (result.outcome !== 'normalised') return result;
  const byInput: Readonly<Record<string, ValueSource>> = sources;
  return {
    ...result,
    budget: result.budget.map((entry) => {
      const source = byInput[entry.input];
      return source === undefined ? entry : { ...entry, label: `${entry.label} (${IN_LABEL[source.of]})` };
    }),
  };
}
