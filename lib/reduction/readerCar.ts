import type { ReaderCar } from '@/lib/physics/estimate/readerCase';
import type { AdoptedTerms } from './adoptedTerms';
import { drivingResistance } from './drivingResistance';
import { drivenMass } from './normalisationCase';
import type { ReductionSnapshot } from './snapshot';
import { tyresOf } from './tyresOf';

/** A reader's car is no car of the registry: nothing of its own was measured. */
const NOTHING_OWN = { coastDown: null, dragAreaM2: null, rollingCoefficient: null };

/**
 * Another car of a model in one of its setups, laid out as the runs of the registry's cars are, so that what the answer
 * assumes of model and method are the very random variables that stand behind the setup's value.
 *
 * @param learned the adopted road load's terms for this setup, where the method version in effect has any
 * @param loadKg people and baggage; a usual load where nobody says
 */
export function readerCar(
  { model, setup }: Pick<ReductionSnapshot, 'model' | 'setup'>,
  learned: AdoptedTerms | undefined,
  loadKg: number | undefined,
): ReaderCar {
  const mass = drivenMass(model.kerbMassKg, loadKg);
  const { vehicle, uncertainty, correlations } = drivingResistance(
    { car: NOTHING_OWN, model },
    learned,
    mass.valueKg,
  );
  return {
    vehicle: {
      massKg: mass.valueKg,
      bodyClass: model.bodyClass,
      tyreKind: tyresOf({ model, setup }),
      ...vehicle,
    },
    uncertainty: { massKg: { u: mass.uKg, scope: 'model' }, ...uncertainty },
    ...(correlations === undefined ? {} : { correlations }),
  };
}
