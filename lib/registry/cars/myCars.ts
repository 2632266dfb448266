import { authorise } from '@/lib/access/authorise';
import { CALIBRATION_NUMBERS, CAR_NUMBERS } from '@/lib/capture/vehicleFields';
import { coastDownOf } from '@/lib/physics/coastDown';
import type { DisplayScale } from '@/lib/physics/displayScale';
import { NotFound } from '@/lib/run/errors';
import { dateText, dayWords } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { typedNumbers } from '@/lib/run/numberField';
import type { Actor } from '@/lib/run/roles';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { carsOf, carWithCalibrations } from '@/lib/store/cars';
import { placeForUncertainty } from '@/lib/units/digits';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';
import type { Registry } from '../registry';
import { displayOfCar } from './carDisplay';

export interface MyCar {
  id: string;
  name: string;
  model: string;
  modelId: string;
  runCount: number;
  setupCount: number;
  placard: string;
  /** Calibrations in force, in words. */
  calibrations: string;
}

/** A tester's cars. */
export async function myCars(
  registry: Registry,
  actor: Actor | undefined,
  display: Display = DEFAULT_PREFERENCES,
): Promise<MyCar[]> {
  authorise(actor, 'addCar');
  const cars = await carsOf(registry.db, actor.accountId);
  return cars.map((car) => ({
    id: car.id,
    name: car.name,
    model: modelWords(car.model),
    modelId: car.model.id,
    runCount: car._count.runs,
    setupCount: car.model.setups.length,
    placard: pressures(car.placardFrontPa, car.placardRearPa, display),
    calibrations:
      car.calibrations
        .filter((one) => one.invalidatedOn === null)
        .map((one) => `${one.instrument} of ${dayWords(dateText(one.measuredOn))}`)
        .join(', ') || 'none',
  }));
}

export interface MyCalibration {
  id: string;
  instrument: string;
  factor: string;
  method: string;
  measuredOn: string;
  odometer: string;
  note: string;
  /** When and why it ended; empty while it is in force. */
  ended: string;
  /** As its form takes it. */
  form: Record<string, string>;
}

export interface MyCarDetails {
  id: string;
  name: string;
  model: string;
  modelId: string;
  world: WorldKey;
  facts: { term: string; description: string; note?: string }[];
  /** What is on file as its form takes it, in the form's first units. */
  form: Record<string, string>;
  /** Why a steward took it out of what a run can be recorded with. */
  hiddenReason: string | null;
  /** That were sent with it. */
  runs: number;
  calibrations: MyCalibration[];
  /** Null while nothing can be said of its energy display. */
  displayScale: DisplayScale | null;
}

/** One car of the actor's own, its numbers as the actor reads them. */
export async function myCar(
  registry: Registry,
  actor: Actor | undefined,
  carId: string,
  display: Display = DEFAULT_PREFERENCES,
): Promise<MyCarDetails> {
  const car = await carWithCalibrations(registry.db, carId);
  if (car === null || car.mergedIntoId !== null) throw new NotFound('This car does not exist.');
  authorise(actor, 'editCar', car.ownerId);
  const mass = car.registeredMassKg ?? car.model.kerbMassKg;
  const capacity = car.usableCapacityWh ?? car.model.usableCapacityWh;
  const ofModel = (own: number | null) => (own === null ? 'the model’s' : 'this car’s own');
  const world = worldKey(car.world);
  return {
    id: car.id,
    name: car.name,
    model: modelWords(car.model),
    modelId: car.model.id,
    world,
    displayScale: await displayOfCar(registry.db, { carId, world }),
    facts: [
      { term: 'Placard pressures', description: pressures(car.placardFrontPa, car.placardRearPa, display) },
      {
        term: 'Mass',
        description: showQuantity(mass, 'mass', display, { decimals: 0 }),
        note: ofModel(car.registeredMassKg),
      },
      {
        term: 'Usable capacity',
        description:
          capacity === null ? 'not known' : capacityWords(capacity, car.usableCapacityUWh, display),
        ...(capacity === null ? {} : { note: ofModel(car.usableCapacityWh) }),
      },
      ...ownValue(
        'Drag area',
        car.dragAreaM2 && showQuantity(car.dragAreaM2, 'm2', display),
        car.ownValuesSource,
      ),
      ...ownValue(
        'Rolling resistance coefficient',
        car.rollingCoefficient && showNumber(car.rollingCoefficient, 4, display),
        car.ownValuesSource,
      ),
      ...ownValue('Coast-down', coastDownWords(car, display), car.ownValuesSource),
    ],
    form: carForm(car),
    hiddenReason: car.hiddenReason,
    runs: car._count.runs,
    calibrations: car.calibrations.map((one) => ({
      id: one.id,
      instrument: one.instrument === 'speedometer' ? 'Speedometer' : 'Odometer',
      factor: factorWords(one, display),
      method: one.method,
      measuredOn: dateText(one.measuredOn),
      odometer:
        one.odometerM === null ? '' : showQuantity(one.odometerM, 'distance', display, { decimals: 0 }),
      note: one.note ?? '',
      form: {
        instrument: one.instrument,
        measuredOn: dateText(one.measuredOn),
        method: one.method,
        note: one.note ?? '',
        ...typedNumbers(one, CALIBRATION_NUMBERS),
      },
      ended:
        one.invalidatedOn === null
          ? ''
          : `${dayWords(dateText(one.invalidatedOn))}: ${one.invalidatedReason ?? ''}`,
    })),
  };
}

type Car = NonNullable<Awaited<ReturnType<typeof carWithCalibrations>>>;

function carForm(car: Car): Record<string, string> {
  return { name: car.name, ownValuesSource: car.ownValuesSource ?? '', ...typedNumbers(car, CAR_NUMBERS) };
}

/** As stated, or to the place of its uncertainty where it was measured. */
function capacityWords(capacityWh: number, uWh: number | null, display: Display): string {
  return uWh === null
    ? showQuantity(capacityWh, 'kWh', display, { decimals: 1 })
    : showWithUncertainty(capacityWh, uWh, 'kWh', display);
}

function coastDownWords(car: Car, display: Display): string | 0 {
  const own = coastDownOf(car);
  if (own === null) return 0;
  const { f0N, f1NPerKmh, f2NPerKmh2 } = own;
  return `${showNumber(f0N, 1, display)} N, ${showNumber(f1NPerKmh, 3, display)} N/(km/h), ${showNumber(f2NPerKmh2, 5, display)} N/(km/h)² at ${showQuantity(20, 'temperature', display, { decimals: 0 })} and 100 kPa`;
}

function ownValue(term: string, description: string | 0 | null, source: string | null) {
  return description ? [{ term, description, ...(source ? { note: source } : {}) }] : [];
}

function pressures(frontPa: number | null, rearPa: number | null, display: Display): string {
  // placards and gauges are read to hundredths of a bar; of the smaller units whole ones are as fine
  const decimals = display.tyrePressure === 'bar' ? 2 : 0;
  const words = (pressurePa: number | null) =>
    pressurePa === null ? 'not known' : showQuantity(pressurePa, 'tyrePressure', display, { decimals });
  return frontPa === null && rearPa === null ? 'not known' : `${words(frontPa)} front, ${words(rearPa)} rear`;
}

/** A calibration to the place of its uncertainty; one without any to the four decimals it is entered with. */
function factorWords(
  { factor, standardUncertainty: u }: { factor: number; standardUncertainty: number },
  display: Display,
): string {
  const place = u > 0 ? placeForUncertainty(u) : 4;
  return `${showNumber(factor, place, display)} ± ${showNumber(u, place, display)}`;
}
