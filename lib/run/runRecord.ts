import type { UnitCode } from '@/lib/units/unit';

/** When in a run a number is read. */
export type Moment = 'start' | 'cruise' | 'turnaround' | 'finish' | 'charger' | 'around';

/** What a number was read from. */
export type Instrument =
  | 'carDisplay'
  | 'charger'
  | 'positioning'
  | 'gauge'
  | 'placard'
  | 'stated'
  | 'weatherSource';

/** Every number that a run's form asks for. The names are the form's field names too. */
export type RunQuantity =
  | 'trueSpeed'
  | 'indicatedSpeed'
  | 'withinBandShare'
  | 'chargeStart'
  | 'odometerStart'
  | 'pressureFront'
  | 'pressureRear'
  | 'placardFront'
  | 'placardRear'
  | 'warmUpDistance'
  | 'loadMass'
  | 'auxiliaryPower'
  | 'outboundDistance'
  | 'outboundEnergy'
  | 'outboundDuration'
  | 'tripDistance'
  | 'tripEnergy'
  | 'tripEfficiency'
  | 'tripDuration'
  | 'tripMeanSpeed'
  | 'chargeEnd'
  | 'odometerEnd'
  | 'chargerEnergy'
  | 'airTemperature'
  | 'airPressure'
  | 'relativeHumidity'
  | 'dewPoint'
  | 'windSpeed'
  | 'windGust'
  | 'windFrom'
  | 'stationDistance';

/** A number as shown (text, unit) and as meant (canonical value with its rounding interval). */
export interface QuantityReading {
  quantity: RunQuantity;
  moment: Moment;
  instrument: Instrument;
  enteredText: string;
  enteredUnit: UnitCode;
  value: number;
  low: number;
  high: number;
}

export type Readings = Partial<Record<RunQuantity, QuantityReading>>;

export type TrueSpeedMethod = 'positioning' | 'calibratedSpeedometer' | 'notVerified';
export type Climate = 'off' | 'mild' | 'cooling' | 'heating';
export type ChargerKind = 'dc' | 'ac';
export type PressureKind = 'station' | 'qnh' | 'qff' | 'altitudeOnly';
export type Precipitation = 'none' | 'rain' | 'snow';
export type RoadState = 'dry' | 'damp' | 'wet' | 'snow';
export type TrafficState = 'free' | 'moderate' | 'dense';
export type CloseFollowing = 'none' | 'some';
export type ConditionsSource = 'stationReport' | 'ownInstrument' | 'carDisplay' | 'forecast';
export type EvidenceKind =
  | 'startDisplay'
  | 'turnaroundDisplay'
  | 'finishDisplay'
  | 'charger'
  | 'weather'
  | 'other';

/** A run that has passed the edge: types and canonical units are to be trusted from here on. */
export interface RunRecord {
  carId: string;
  setupId: string;
  loopId: string;
  cruiseClassKey: string;
  /** ISO 8601 instant with offset, from the local time that the tester typed. */
  startedAt: string;
  utcOffsetMin: number;
  /** Calendar date at the loop: with car and loop it names the session. */
  localDate: string;
  readings: Readings;
  trueSpeedMethod: TrueSpeedMethod;
  climate: Climate;
  chargerKind: ChargerKind | undefined;
  pressureKind: PressureKind;
  precipitation: Precipitation;
  road: RoadState;
  traffic: TrafficState;
  closeFollowing: CloseFollowing;
  conditionsSource: ConditionsSource;
  stationReport: string | undefined;
  isRetrospective: boolean;
  notes: string;
}
