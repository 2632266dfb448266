import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { type CoastDownCoefficients, coastDownAsRoadLoad } from '@/lib/physics/coastDown';
import { priorU, VEHICLE_PRIORS } from '@/lib/physics/priors';
import type { AdoptedTerms, LearnedValue } from './adoptedTerms';
import type { CarSnapshot, ModelSnapshot } from './snapshot';

interface DrivingResistance {
  vehicle: Pick<
    NormalisationCase['vehicle'],
    'dragAreaM2' | 'rollingCoefficient' | 'dragOfSetup' | 'rollingOfSetup' | 'coastDown'
  >;
  uncertainty: NonNullable<NormalisationCase['uncertainty']>;
  correlations?: NonNullable<NormalisationCase['correlations']>;
}

/**
 * Drag and rolling of the car of a run: its own coast-down or values, else what its model's runs taught where the method
 * version in effect adopted that (`learned`), else the model's stated drag area; what is left open is the engine's prior.
 * A car's own values are taken to be of the setup driven.
 */
export function drivingResistance(
  {
    car,
    model,
  }: {
    car: Pick<CarSnapshot, 'coastDown' | 'dragAreaM2' | 'rollingCoefficient'>;
    model: Pick<ModelSnapshot, 'dragAreaM2'>;
  },
  learned: AdoptedTerms | undefined,
  massKg: number,
): DrivingResistance {
  if (car.coastDown !== null) {
    return {
      vehicle: { coastDown: { ...car.coastDown } },
      uncertainty: coastDownUncertainty(car.coastDown, massKg),
    };
  }
  const drag = car.dragAreaM2 === null ? learned : undefined;
  const rolling = car.rollingCoefficient === null ? learned : undefined;
  const dragAreaM2 = car.dragAreaM2 ?? drag?.dragAreaM2.value ?? model.dragAreaM2 ?? undefined;
  const rollingCoefficient = car.rollingCoefficient ?? rolling?.rollingCoefficient.value;
  const [dragOfSetup, rollingOfSetup] = [drag?.dragOfSetup, rolling?.rollingOfSetup];
  // one posterior for the model: its error is shared by all of the model's cars, and that of a change likewise
  const ofModel = ({ u }: LearnedValue) => ({ u, scope: 'model' as const });
  return {
    vehicle: {
      ...(dragAreaM2 === undefined ? {} : { dragAreaM2 }),
      ...(rollingCoefficient === undefined ? {} : { rollingCoefficient }),
      ...(dragOfSetup === undefined ? {} : { dragOfSetup: dragOfSetup.value }),
      ...(rollingOfSetup === undefined ? {} : { rollingOfSetup: rollingOfSetup.value }),
    },
    uncertainty: {
      ...(drag === undefined ? {} : { dragAreaM2: ofModel(drag.dragAreaM2) }),
      ...(rolling === undefined ? {} : { rollingCoefficient: ofModel(rolling.rollingCoefficient) }),
      ...(dragOfSetup === undefined ? {} : { dragOfSetup: ofModel(dragOfSetup) }),
      ...(rollingOfSetup === undefined ? {} : { rollingOfSetup: ofModel(rollingOfSetup) }),
    },
    ...(drag === undefined || rolling === undefined
      ? {}
      : { correlations: [{ inputs: ['dragAreaM2', 'rollingCoefficient'], coefficient: drag.correlation }] }),
  };
}

/** A coast-down was measured on this car: its error is shared by the car's runs, not by those of its model. */
function coastDownUncertainty(coastDown: CoastDownCoefficients, massKg: number) {
  const own = coastDownAsRoadLoad(coastDown, massKg);
  const ofCar = (value: number) => ({ u: priorU(VEHICLE_PRIORS.coastDown, value), scope: 'car' as const });
  return {
    dragAreaM2: ofCar(own.dragAreaM2),
    rollingCoefficient: ofCar(own.rollingCoefficient),
    linearRollingNPerMps: ofCar(own.linearNPerMps),
  };
}
