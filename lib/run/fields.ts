import type { Dimension, UnitCode } from '@/lib/units/unit';
import type { Instrument, Moment, RunQuantity } from './runRecord';

/** The sections of the run form, in the order in which a tester meets them. */
export const RUN_SECTIONS = [
  { key: 'setup', label: 'Car and setup' },
  { key: 'loop', label: 'Loop and speed' },
  { key: 'start', label: 'Start' },
  { key: 'turnaround', label: 'Turnaround' },
  { key: 'finish', label: 'Finish' },
  { key: 'charging', label: 'Charging back' },
  { key: 'conditions', label: 'Conditions' },
  { key: 'evidence', label: 'Evidence photos' },
] as const;

export type RunSection = (typeof RUN_SECTIONS)[number]['key'];

export interface QuantityField {
  quantity: RunQuantity;
  section: RunSection;
  label: string;
  hint: string;
  dimension: Dimension;
  /** The units a display shows this in; the first is the form's default. */
  units: readonly [UnitCode, ...UnitCode[]];
  moment: Moment;
  instrument: Instrument;
  isRequired: boolean;
  allowNegative?: boolean;
  /** Odometers cut the last digit off instead of rounding it. */
  rounding?: 'down';
  /** What a car can do, in canonical units; outside it, the number or its unit is wrong. */
  plausible: readonly [number, number];
}

const LENGTH_UNITS = ['km', 'mi'] as const;
const SPEED_UNITS = ['km/h', 'mph'] as const;
const WIND_UNITS = ['m/s', 'km/h', 'mph', 'kn'] as const;
const TYRE_UNITS = ['bar', 'kPa', 'psi'] as const;
const AIR_UNITS = ['hPa', 'inHg'] as const;

/**
 * Every number of the form. Plausible ranges are our own wide fences against a wrong unit or a slipped digit;
 * the protocol's limits are narrower and live with its versions.
 */
export const QUANTITY_FIELDS: readonly QuantityField[] = [
  {
    quantity: 'trueSpeed',
    section: 'loop',
    label: 'True cruise speed held',
    hint: 'Mean over the open legs, from satellite positioning or a calibrated speedometer.',
    dimension: 'speed',
    units: SPEED_UNITS,
    moment: 'cruise',
    instrument: 'positioning',
    isRequired: true,
    plausible: [10, 56],
  },
  {
    quantity: 'indicatedSpeed',
    section: 'loop',
    label: 'Speed shown by the car',
    hint: 'What the speedometer showed at that true speed. It usually reads a little high.',
    dimension: 'speed',
    units: SPEED_UNITS,
    moment: 'cruise',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [10, 60],
  },
  {
    quantity: 'withinBandShare',
    section: 'loop',
    label: 'Share of cruise time within ±3 km/h',
    hint: 'From a trace, where you have one.',
    dimension: 'share',
    units: ['%'],
    moment: 'cruise',
    instrument: 'positioning',
    isRequired: false,
    plausible: [0, 1],
  },
  {
    quantity: 'chargeStart',
    section: 'start',
    label: 'Charge at start',
    hint: 'As the display shows it.',
    dimension: 'share',
    units: ['%'],
    moment: 'start',
    instrument: 'carDisplay',
    isRequired: true,
    plausible: [0, 1],
  },
  {
    quantity: 'odometerStart',
    section: 'start',
    label: 'Odometer at start',
    hint: 'Optional; a second measure of the distance.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'start',
    instrument: 'carDisplay',
    isRequired: false,
    rounding: 'down',
    plausible: [0, 3e9],
  },
  {
    quantity: 'pressureFront',
    section: 'start',
    label: 'Cold tyre pressure, front',
    hint: 'Before driving, by gauge.',
    dimension: 'pressure',
    units: TYRE_UNITS,
    moment: 'start',
    instrument: 'gauge',
    isRequired: false,
    plausible: [100_000, 700_000],
  },
  {
    quantity: 'pressureRear',
    section: 'start',
    label: 'Cold tyre pressure, rear',
    hint: 'Before driving, by gauge.',
    dimension: 'pressure',
    units: TYRE_UNITS,
    moment: 'start',
    instrument: 'gauge',
    isRequired: false,
    plausible: [100_000, 700_000],
  },
  {
    quantity: 'placardFront',
    section: 'start',
    label: 'Placard pressure, front',
    hint: 'From the door placard, for this load. Stay within it.',
    dimension: 'pressure',
    units: TYRE_UNITS,
    moment: 'start',
    instrument: 'placard',
    isRequired: false,
    plausible: [100_000, 700_000],
  },
  {
    quantity: 'placardRear',
    section: 'start',
    label: 'Placard pressure, rear',
    hint: 'From the door placard, for this load. Stay within it.',
    dimension: 'pressure',
    units: TYRE_UNITS,
    moment: 'start',
    instrument: 'placard',
    isRequired: false,
    plausible: [100_000, 700_000],
  },
  {
    quantity: 'warmUpDistance',
    section: 'start',
    label: 'Warm-up driven before the start',
    hint: 'Distance at cruise speed just before, so that tyres and drivetrain are warm.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'start',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [0, 500_000],
  },
  {
    quantity: 'loadMass',
    section: 'start',
    label: 'People and load',
    hint: 'Everything above the registered mass, driver included.',
    dimension: 'mass',
    units: ['kg', 'lb'],
    moment: 'start',
    instrument: 'stated',
    isRequired: false,
    plausible: [0, 4000],
  },
  {
    quantity: 'auxiliaryPower',
    section: 'start',
    label: 'Auxiliary power, if the car shows it',
    hint: 'Mean over the run. Left empty, a value for the climate setting is assumed and its uncertainty kept.',
    dimension: 'power',
    units: ['kW', 'W'],
    moment: 'around',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [0, 12_000],
  },
  {
    quantity: 'outboundDistance',
    section: 'turnaround',
    label: 'Distance at turnaround',
    hint: 'Since the start.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [500, 1_000_000],
  },
  {
    quantity: 'outboundEnergy',
    section: 'turnaround',
    label: 'Energy at turnaround',
    hint: 'Since the start. With the total it shows what the wind did.',
    dimension: 'energy',
    units: ['kWh', 'Wh'],
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [50, 200_000],
  },
  {
    quantity: 'outboundDuration',
    section: 'turnaround',
    label: 'Time at turnaround',
    hint: 'Minutes, or h:mm.',
    dimension: 'duration',
    units: ['min', 'h'],
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [30, 86_400],
  },
  {
    quantity: 'tripDistance',
    section: 'finish',
    label: 'Distance',
    hint: 'Trip distance over the whole loop.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: true,
    plausible: [2_000, 1_500_000],
  },
  {
    quantity: 'tripEnergy',
    section: 'finish',
    label: 'Energy used',
    hint: 'As shown for the trip. This or the shown consumption is needed; both are better.',
    dimension: 'energy',
    units: ['kWh', 'Wh'],
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [200, 400_000],
  },
  {
    quantity: 'tripEfficiency',
    section: 'finish',
    label: 'Average consumption shown',
    hint: 'In the unit that the display uses.',
    dimension: 'consumption',
    units: ['kWh/100km', 'Wh/km', 'km/kWh', 'mi/kWh', 'Wh/mi', 'kWh/100mi'],
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [40, 1000],
  },
  {
    quantity: 'tripDuration',
    section: 'finish',
    label: 'Time',
    hint: 'Minutes, or h:mm.',
    dimension: 'duration',
    units: ['min', 'h'],
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: true,
    plausible: [60, 86_400],
  },
  {
    quantity: 'tripMeanSpeed',
    section: 'finish',
    label: 'Average speed shown',
    hint: 'Optional; checked against distance and time.',
    dimension: 'speed',
    units: SPEED_UNITS,
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: false,
    plausible: [5, 56],
  },
  {
    quantity: 'chargeEnd',
    section: 'finish',
    label: 'Charge at finish',
    hint: 'As the display shows it.',
    dimension: 'share',
    units: ['%'],
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: true,
    plausible: [0, 1],
  },
  {
    quantity: 'odometerEnd',
    section: 'finish',
    label: 'Odometer at finish',
    hint: 'Optional; with the first one a second measure of the distance.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'finish',
    instrument: 'carDisplay',
    isRequired: false,
    rounding: 'down',
    plausible: [0, 3e9],
  },
  {
    quantity: 'chargerEnergy',
    section: 'charging',
    label: 'Energy delivered by the charger',
    hint: 'To come back to the start charge. Read from the charger, not the car.',
    dimension: 'energy',
    units: ['kWh', 'Wh'],
    moment: 'charger',
    instrument: 'charger',
    isRequired: false,
    plausible: [200, 500_000],
  },
  {
    quantity: 'airTemperature',
    section: 'conditions',
    label: 'Air temperature',
    hint: 'Mean over the run.',
    dimension: 'temperature',
    units: ['degC', 'degF'],
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: true,
    allowNegative: true,
    plausible: [-60, 60],
  },
  {
    quantity: 'airPressure',
    section: 'conditions',
    label: 'Air pressure',
    hint: 'Say below which kind of pressure it is. Left empty, it is taken from the loop’s altitude.',
    dimension: 'pressure',
    units: AIR_UNITS,
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: false,
    plausible: [50_000, 110_000],
  },
  {
    quantity: 'relativeHumidity',
    section: 'conditions',
    label: 'Relative humidity',
    hint: 'This or the dew point.',
    dimension: 'share',
    units: ['%'],
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: false,
    plausible: [0, 1],
  },
  {
    quantity: 'dewPoint',
    section: 'conditions',
    label: 'Dew point',
    hint: 'This or the relative humidity.',
    dimension: 'temperature',
    units: ['degC', 'degF'],
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: false,
    allowNegative: true,
    plausible: [-70, 45],
  },
  {
    quantity: 'windSpeed',
    section: 'conditions',
    label: 'Mean wind at 10 m',
    hint: 'As a weather station reports it. A calm is 0.',
    dimension: 'speed',
    units: WIND_UNITS,
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: true,
    plausible: [0, 60],
  },
  {
    quantity: 'windGust',
    section: 'conditions',
    label: 'Gusts',
    hint: 'Where reported.',
    dimension: 'speed',
    units: WIND_UNITS,
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: false,
    plausible: [0, 80],
  },
  {
    quantity: 'windFrom',
    section: 'conditions',
    label: 'Wind from',
    hint: 'Degrees from true north: 90 is from the east.',
    dimension: 'angle',
    units: ['deg'],
    moment: 'around',
    instrument: 'weatherSource',
    isRequired: false,
    plausible: [0, 360],
  },
  {
    quantity: 'stationDistance',
    section: 'conditions',
    label: 'Distance from the weather station',
    hint: 'From the middle of the loop. Farther stations say less, and the uncertainty grows.',
    dimension: 'length',
    units: LENGTH_UNITS,
    moment: 'around',
    instrument: 'stated',
    isRequired: false,
    plausible: [0, 500_000],
  },
];

export function quantityField(quantity: RunQuantity): QuantityField {
  const field = QUANTITY_FIELDS.find((candidate) => candidate.quantity === quantity);
  if (field === undefined) throw new RangeError(`no form field for ${quantity}`);
  return field;
}

export interface ChoiceOption {
  value: string;
  label: string;
  hint?: string;
}

export interface ChoiceFieldDefinition {
  name: string;
  section: RunSection;
  label: string;
  hint: string;
  options: readonly ChoiceOption[];
  isRequired: boolean;
}

export const CHOICE_FIELDS = [
  {
    name: 'trueSpeedMethod',
    section: 'loop',
    label: 'How the true speed was checked',
    hint: 'A run whose true speed was not verified can be recorded, not approved.',
    isRequired: true,
    options: [
      { value: 'positioning', label: 'Satellite positioning (phone, logger)' },
      { value: 'calibratedSpeedometer', label: 'Speedometer with a calibration on file' },
      { value: 'notVerified', label: 'Not verified' },
    ],
  },
  {
    name: 'climate',
    section: 'start',
    label: 'Climate setting during the run',
    hint: 'Sets the assumed auxiliary power.',
    isRequired: true,
    options: [
      { value: 'off', label: 'Off' },
      { value: 'mild', label: 'On, little to do' },
      { value: 'cooling', label: 'Cooling' },
      { value: 'heating', label: 'Heating' },
    ],
  },
  {
    name: 'chargerKind',
    section: 'charging',
    label: 'Charger',
    hint: '',
    isRequired: false,
    options: [
      { value: 'dc', label: 'Fast charger (DC)' },
      { value: 'ac', label: 'Wall box or socket (AC)' },
    ],
  },
  {
    name: 'pressureKind',
    section: 'conditions',
    label: 'Kind of pressure',
    hint: 'Altimeter setting and sea-level pressure differ by about 1 % high up in the cold.',
    isRequired: true,
    options: [
      { value: 'qnh', label: 'Altimeter setting (QNH)' },
      { value: 'qff', label: 'Sea-level pressure (QFF)' },
      { value: 'station', label: 'At the place itself, not reduced' },
      { value: 'altitudeOnly', label: 'Not known: use the loop’s altitude' },
    ],
  },
  {
    name: 'precipitation',
    section: 'conditions',
    label: 'Precipitation',
    hint: '',
    isRequired: true,
    options: [
      { value: 'none', label: 'None' },
      { value: 'rain', label: 'Rain' },
      { value: 'snow', label: 'Snow or sleet' },
    ],
  },
  {
    name: 'road',
    section: 'conditions',
    label: 'Road',
    hint: '',
    isRequired: true,
    options: [
      { value: 'dry', label: 'Dry' },
      { value: 'damp', label: 'Damp' },
      { value: 'wet', label: 'Wet' },
      { value: 'snow', label: 'Snow or ice' },
    ],
  },
  {
    name: 'traffic',
    section: 'conditions',
    label: 'Traffic',
    hint: 'Dense traffic drags the air along and lowers consumption.',
    isRequired: true,
    options: [
      { value: 'free', label: 'Free' },
      { value: 'moderate', label: 'Moderate' },
      { value: 'dense', label: 'Dense' },
    ],
  },
  {
    name: 'closeFollowing',
    section: 'conditions',
    label: 'Followed another vehicle closely',
    hint: 'Following closely is dangerous and makes the run invalid.',
    isRequired: true,
    options: [
      { value: 'none', label: 'No' },
      { value: 'some', label: 'Yes, for a part' },
    ],
  },
  {
    name: 'conditionsSource',
    section: 'conditions',
    label: 'Where the weather comes from',
    hint: '',
    isRequired: true,
    options: [
      { value: 'stationReport', label: 'Weather station report' },
      { value: 'ownInstrument', label: 'Own instrument at the loop' },
      { value: 'carDisplay', label: 'Car display' },
      { value: 'forecast', label: 'Forecast or app' },
    ],
  },
] as const satisfies readonly ChoiceFieldDefinition[];

/** Evidence photos that the form takes, with what each is to show. */
export const EVIDENCE_KINDS = [
  { value: 'startDisplay', label: 'Display at start', hint: 'Trip reset, charge readable.' },
  { value: 'turnaroundDisplay', label: 'Display at turnaround', hint: 'Optional.' },
  { value: 'finishDisplay', label: 'Display at finish', hint: 'Distance, energy and charge readable.' },
  { value: 'charger', label: 'Charger', hint: 'Optional: delivered energy.' },
  { value: 'weather', label: 'Weather', hint: 'Optional: report or instrument.' },
  { value: 'other', label: 'Other', hint: 'Optional.' },
] as const;

/**
 * The form as typed: field name to text. A quantity `q` has its unit under `qUnit`.
 * Kept whole in a draft, so that nothing typed is lost.
 */
export type RunForm = Record<string, string>;

export function unitFieldName(quantity: RunQuantity): string {
  return `${quantity}Unit`;
}
