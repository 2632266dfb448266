import type { NamedValue } from '../namedValues';
import type { NumberField } from '../numberField';

const HOUR_S = 3600;

/**
 * The numbers that a reader may state of a trip, each with its units. None is required: what is left empty stands at
 * reference conditions, at what is usual, or is not known. Ranges are wide fences against a wrong unit; how far an
 * answer reaches is the method's affair (estimateReach.ts).
 */
export const ESTIMATE_NUMBERS = [
  number('speed', 'True speed', ['km/h', 'mph'], [5, 70], 'Held all the way. Indicated speeds read higher.'),
  number('trip', 'Length of the trip', ['km', 'mi'], [1000, 3_000_000]),
  signed('air', 'Air temperature', ['degC', 'degF'], [-60, 60]),
  number('windSpeed', 'Wind', ['m/s', 'km/h', 'mph', 'kn'], [0, 40], 'As in a forecast, without gusts.'),
  signed(
    'climb',
    'Net climb',
    ['m', 'ft'],
    [-5000, 5000],
    'How much higher the destination lies; with a minus where it lies lower.',
  ),
  number(
    'load',
    'People and baggage',
    ['kg', 'lb'],
    [0, 3000],
    'Left empty: a usual load of 90 kg, roughly known.',
  ),
  number('start', 'Charge at departure', ['%'], [0.01, 1]),
  number('arrive', 'Charge at arrival', ['%'], [0, 0.99], 'Your reserve. Keep one.'),
  number('low', 'Charge when you stop', ['%'], [0, 0.99]),
  number('high', 'Charge when you drive on', ['%'], [0.01, 1]),
  number(
    'charger',
    'Charger’s highest power',
    ['kW'],
    [1000, 2_000_000],
    'Left empty: as much as the car takes.',
  ),
  number(
    'stop',
    'Time lost at each stop',
    ['min'],
    [0, 2 * HOUR_S],
    'On top of charging: leaving the road, plugging in, getting back.',
  ),
  number('homePrice', 'Price at home, per kWh', [], [0, 10_000], 'In your own currency.'),
  number('wayPrice', 'Price on the way, per kWh', [], [0, 10_000], 'Left empty: as at home.'),
  number(
    'cabin',
    'Power for cabin and electronics',
    ['W', 'kW'],
    [0, 15_000],
    'Used instead of the cabin climate chosen above.',
  ),
  signed('battery', 'Battery at departure', ['degC', 'degF'], [-40, 60], 'Left empty: as cold as the air.'),
  number(
    'capacity',
    'Usable capacity as measured',
    ['kWh', 'Wh'],
    [1000, 1_000_000],
    'Left empty: worked out from that of a new car.',
  ),
  number(
    'capacityOff',
    'Uncertainty of that capacity',
    ['kWh', 'Wh'],
    [1, 200_000],
    'In two cases of three it is off by less.',
  ),
  number(
    'pressure',
    'Air pressure at the place',
    ['hPa', 'inHg'],
    [40_000, 110_000],
    'Not reduced to sea level. Left empty: 1000 hPa.',
  ),
  signed('altitude', 'Altitude', ['m', 'ft'], [-430, 5000], 'Used instead of the pressure.'),
  number(
    'humidity',
    'Relative humidity',
    ['%'],
    [0, 1],
    'Left empty: dry air, which is a little heavier than damp.',
  ),
] as const satisfies readonly NumberField[];

export type EstimateNumber = (typeof ESTIMATE_NUMBERS)[number]['name'];

/** The cabin at reference conditions draws 500 W; the others are what is believed of a setting. */
export const ESTIMATE_CLIMATES = [
  { value: 'reference', label: 'As at reference conditions (500 W)' },
  { value: 'off', label: 'Off' },
  { value: 'mild', label: 'On, little to do' },
  { value: 'cooling', label: 'Cooling' },
  { value: 'heating', label: 'Heating' },
] as const satisfies readonly NamedValue[];

export const WIND_FROM = [
  { value: 'any', label: 'From anywhere' },
  { value: 'ahead', label: 'Against you' },
  { value: 'behind', label: 'From behind' },
  { value: 'side', label: 'From the side' },
] as const satisfies readonly NamedValue[];

export const WAYS = [
  { value: 'one', label: 'One way' },
  { value: 'back', label: 'There and back' },
] as const satisfies readonly NamedValue[];

/** The choices of the form; the first of each stands unless told. */
export const ESTIMATE_CHOICES = [
  { name: 'climate', label: 'Cabin climate', options: ESTIMATE_CLIMATES },
  { name: 'windFrom', label: 'Wind comes', options: WIND_FROM },
  { name: 'way', label: 'The trip goes', options: WAYS },
] as const;

/** What stands where nothing was said, canonical; the speed is that of a class of the setup. */
export const ESTIMATE_DEFAULTS = {
  trip: 300_000,
  air: 20,
  windSpeed: 0,
  climb: 0,
  start: 0.8,
  arrive: 0.1,
  low: 0.1,
  high: 0.8,
  stop: 300,
} as const satisfies Partial<Record<EstimateNumber, number>>;

function number<Name extends string>(
  name: Name,
  label: string,
  units: NumberField['units'],
  range: NumberField['range'],
  hint = '',
) {
  return { name, label, hint, units, isRequired: false, range } as const;
}

function signed<Name extends string>(...of: Parameters<typeof number<Name>>) {
  return { ...number(...of), allowNegative: true } as const;
}
