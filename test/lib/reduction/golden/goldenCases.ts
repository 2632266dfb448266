import type {
  CalibrationSnapshot,
  RecordingSnapshot,
  ReductionSnapshot,
  SetupLevelSnapshot,
} from '@/lib/reduction/snapshot';
import { weatherOfRecord } from '@/lib/reduction/weatherOfRecord';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { RunQuantity } from '@/lib/run/fields/table';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import { completeForm } from '@/test/helpers/runForms';
import type { GoldenInput } from './goldenTable';

const NOW = '2026-11-01T12:00:00.000Z';

interface Changes {
  form?: RunForm;
  /** A reading that the form of today asks for and older ones may lack. */
  without?: RunQuantity;
  car?: Partial<ReductionSnapshot['car']>;
  model?: Partial<ReductionSnapshot['model']>;
  levels?: SetupLevelSnapshot[];
  loop?: Partial<ReductionSnapshot['loop']>;
  calibrations?: Partial<CalibrationSnapshot>[];
  recording?: Partial<RecordingSnapshot>;
  adopted?: Partial<NonNullable<GoldenInput['adopted']>>;
}

/** Invented numbers throughout: a table of what the method does with them, not of what a car does. */
function golden(name: string, changes: Changes = {}): [string, GoldenInput] {
  const parsed = parseRunForm(completeForm({ ...FORM, ...changes.form }), { now: NOW });
  if (!parsed.ok) throw new Error(`${name}: ${parsed.issues.map((issue) => issue.what).join(' ')}`);
  const { notes: _, stationReport: __, ...record } = parsed.record;
  if (changes.without !== undefined) delete record.readings[changes.without];
  const cruiseClass = cruiseClassByKey(record.cruiseClassKey);
  if (cruiseClass === undefined) throw new Error(`${name}: no such class`);
  return [
    name,
    {
      snapshot: {
        version: 2,
        record,
        cruiseClass,
        car: { ...CAR, ...changes.car },
        model: { ...MODEL, ...changes.model },
        setup: { id: 'setup', levels: changes.levels ?? [] },
        loop: { ...LOOP, ...changes.loop },
        calibrations: (changes.calibrations ?? []).map((each) => ({ ...CALIBRATION, ...each })),
        weather: weatherOfRecord(parsed.record),
        recording: changes.recording === undefined ? null : { ...RECORDING, ...changes.recording },
      },
      adopted: changes.adopted === undefined ? null : { ...ADOPTED, ...changes.adopted },
    },
  ];
}

const FORM: RunForm = {
  trueSpeed: '69.6',
  outboundDistance: '31.4',
  outboundEnergy: '12.2',
  tripDistance: '62.9',
  tripEnergy: '24.9',
  tripEfficiency: '2.53',
  tripDuration: '57.5',
  tripMeanSpeed: '66',
  chargeStart: '78',
  chargeEnd: '57',
};

const CAR: ReductionSnapshot['car'] = {
  id: 'car',
  registeredMassKg: null,
  usableCapacityWh: null,
  dragAreaM2: null,
  rollingCoefficient: null,
  coastDown: null,
  ownValuesSource: null,
  placardFrontPa: 290_000,
  placardRearPa: 290_000,
};

const MODEL: ReductionSnapshot['model'] = {
  id: 'model',
  bodyClass: 'suv',
  kerbMassKg: 2430,
  usableCapacityWh: 121_500,
  dragAreaM2: null,
  dragAreaSource: null,
  hasHeatPump: false,
  deliveredTyreKind: null,
};

const LOOP: ReductionSnapshot['loop'] = {
  id: 'loop',
  driving: null,
  name: 'Heather flats',
  lengthM: 101_240,
  lengthUncertaintyM: 120,
  altitudeM: 84,
  netClimbM: 0,
  closureDistanceM: 35,
  closureHeightM: 0,
  sharedRouteShare: 0.97,
  offCruiseShare: 0.042,
  postedLimitMps: 130 / 3.6,
  bearings: [
    { bearingDeg: 35, share: 0.32 },
    { bearingDeg: 70, share: 0.18 },
    { bearingDeg: 215, share: 0.32 },
    { bearingDeg: 250, share: 0.18 },
  ],
  legs: [leg('outbound', 50_600, 38, [35, 70]), leg('return', 50_640, -38, [215, 250])],
};

function leg(direction: string, lengthM: number, netClimbM: number, [a, b]: [number, number]) {
  return {
    direction,
    lengthM,
    netClimbM,
    bearings: [
      { bearingDeg: a, share: 0.64 },
      { bearingDeg: b, share: 0.36 },
    ],
  };
}

const CALIBRATION: CalibrationSnapshot = {
  instrument: 'speedometer',
  factor: 0.977,
  standardUncertainty: 0.0018,
  measuredOn: '2026-02-20',
  odometerM: null,
  invalidatedOn: null,
};

const RECORDING: RecordingSnapshot = {
  traceId: 'trace',
  distanceM: 101_410,
  lengthScale: null,
  gapDistanceM: 640,
  meanSquareSpeedM2S2: 918.4,
  slowDowns: [
    { fromMps: 31.2, toMps: 8.6, fallM: null },
    { fromMps: 30.9, toMps: 12.4, fallM: null },
    { fromMps: 31.1, toMps: 22.7, fallM: null },
  ],
  durationS: null,
  cruise: {
    meanSpeedMps: 31.08,
    spreadMps: 0.41,
    durationS: 3105,
    withinBandShare: 0.957,
    offCruiseShare: 0.0405,
  },
  sectorShares: Array.from({ length: 36 }, (_, sector) =>
    [3, 21].includes(sector) ? 0.31 : [7, 25].includes(sector) ? 0.17 : sector % 9 === 0 ? 0.01 : 0,
  ),
  closureDistanceM: 48,
  netClimbM: 1.7,
};

/** Ratios to efficiency: CdA/η 0.86 ± 0.04 m², Crr/η 0.0104 ± 0.0007, correlated by −0.7. */
const ADOPTED: NonNullable<GoldenInput['adopted']> = {
  label: '1+priors1+learned1',
  runs: 17,
  posterior: {
    mean: [0.86, 0.0104, 540],
    covariance: [
      [0.0016, -0.0000196, 0.9],
      [-0.0000196, 4.9e-7, -0.012],
      [0.9, -0.012, 11_000],
    ],
  },
  levels: [],
};

const level = (
  factor: string,
  tyreKind: SetupLevelSnapshot['tyreKind'] = null,
  isBaseline = false,
): SetupLevelSnapshot => ({ factor, levelId: `${factor} changed`, isBaseline, tyreKind });

const REPORTS = [
  'METAR ZZHF 140820Z 24007KT 210V270 9999 FEW038 16/08 Q1017',
  'METAR ZZHF 140850Z 23009G19KT 9999 SCT040 17/08 Q1017',
  'METAR ZZHF 140920Z 24010KT 9999 SCT042 18/09 Q1016',
].join('\n');

export const GOLDEN_CASES: ReadonlyMap<string, GoldenInput> = new Map([
  golden('a careful run on a loop with two known legs'),
  golden('nothing stated that may be left out', {
    form: {
      loadMass: '',
      indicatedSpeed: '',
      outboundDistance: '',
      outboundEnergy: '',
      tripEnergy: '',
      relativeHumidity: '',
      withinBandShare: '',
      tripMeanSpeed: '',
    },
  }),
  golden('retrospective, speed not verified, altitude only, forecast', {
    form: {
      isRetrospective: 'yes',
      trueSpeedMethod: 'notVerified',
      pressureKind: 'altitudeOnly',
      airPressure: '',
      conditionsSource: 'forecast',
      stationDistance: '',
      loadMass: '',
      tripEfficiency: '',
    },
    loop: { altitudeM: 612 },
  }),
  golden('a recording in the place of clock and loop', { recording: {} }),
  golden('a recording that tells how far each braking went', {
    recording: {
      durationS: 3420,
      slowDowns: [
        { fromMps: 31.2, toMps: 8.6, fallM: 470 },
        { fromMps: 31.1, toMps: 22.7, fallM: 900 },
      ],
    },
  }),
  golden('no recording, on a loop that recordings tell of', {
    loop: {
      driving: {
        recordings: 3,
        meanSquareRatio: { value: 0.962, u: 0.011 },
        timeRatio: 1.041,
        brakingFalls: [
          { fromMps: 31.2, toMps: 0, distanceM: 620, count: 1 },
          { fromMps: 31, toMps: 14.8, distanceM: 410, count: 2 / 3 },
        ],
      },
    },
  }),
  golden('a recording that ends elsewhere and contradicts the typed speed', {
    form: { trueSpeed: '66.0' },
    recording: { closureDistanceM: 640, netClimbM: -23.4, distanceM: 100_780 },
  }),
  golden('a recording with too many gaps is only a check', { recording: { gapDistanceM: 7200 } }),
  golden('a recording without a cruise, shorter than the loop', {
    recording: { cruise: null, distanceM: 91_000 },
  }),
  golden('a coast-down and a registered mass of the car', {
    car: {
      registeredMassKg: 2511,
      coastDown: { f0N: 214.3, f1NPerKmh: 0.38, f2NPerKmh2: 0.0361 },
      ownValuesSource: 'own coast-down',
    },
  }),
  golden('a car’s own drag, rolling and capacity', {
    car: { dragAreaM2: 0.802, rollingCoefficient: 0.0094, usableCapacityWh: 118_300 },
    model: { dragAreaM2: 0.77, dragAreaSource: 'data sheet' },
  }),
  golden('a drag area stated for the model', {
    model: { dragAreaM2: 0.77, dragAreaSource: 'data sheet', bodyClass: 'saloon', kerbMassKg: 1980 },
  }),
  golden('a calibrated speedometer, and an odometer on a loop that is known coarsely', {
    form: { trueSpeedMethod: 'calibratedSpeedometer', indicatedSpeed: '71.4', odometerStart: '21400' },
    loop: { lengthUncertaintyM: 1900 },
    calibrations: [
      { odometerM: 30_000_000 },
      { instrument: 'odometer', factor: 0.991, standardUncertainty: 0.003, odometerM: 30_000_000 },
    ],
  }),
  golden('a display that contradicts a loop known coarsely', {
    loop: { lengthM: 108_900, lengthUncertaintyM: 1500 },
  }),
  golden('a stated speed that contradicts the calibrated speedometer', {
    form: { trueSpeedMethod: 'calibratedSpeedometer', indicatedSpeed: '74.0' },
    calibrations: [{ measuredOn: '2025-11-02' }, { measuredOn: '2026-04-02', factor: 0.979 }],
  }),
  golden('a calibration that other tyres ended, and an old one', {
    form: { trueSpeedMethod: 'calibratedSpeedometer' },
    calibrations: [{ invalidatedOn: '2026-04-01' }, { measuredOn: '2024-01-05' }],
  }),
  golden('rain: measured, not normalised', { form: { precipitation: 'rain', road: 'wet' } }),
  golden('a storm is out of reach', { form: { windSpeed: '14.5', windFrom: '35' } }),
  golden('less energy than auxiliaries and climb take', {
    form: { auxiliaryPower: '11.5', tripEnergy: '9.1', tripEfficiency: '', outboundEnergy: '' },
    loop: { netClimbM: 400 },
  }),
  golden('adopted road load, setup as delivered', { adopted: {} }),
  golden('adopted road load, drag changed by the ride height', {
    adopted: {},
    levels: [level('rideHeight')],
  }),
  golden('adopted road load, rolling changed by the tyre pressure', {
    adopted: {},
    levels: [level('tyrePressure'), level('rideHeight', null, true)],
  }),
  golden('adopted road load, mass and climate changed', {
    adopted: {},
    levels: [level('load'), level('cabinClimate')],
    form: { loadMass: '310', climate: 'cooling' },
  }),
  golden('adopted road load, both changed by all-terrain tyres', {
    adopted: {},
    levels: [level('wheelTyre', 'allTerrain')],
  }),
  golden('road load adopted from the very setup of the run, with drag of the car’s own', {
    adopted: { levels: [{ factor: 'wheelTyre', levelId: 'wheelTyre changed', tyreKind: 'allTerrain' }] },
    levels: [level('wheelTyre', 'allTerrain')],
    car: { dragAreaM2: 0.802 },
  }),
  golden('four energy readings that disagree', {
    form: {
      tripEnergy: '23.8',
      chargerKind: 'ac',
      chargerEnergy: '31.4',
      chargeStart: '79',
      chargeEnd: '56',
    },
  }),
  golden('two energy readings that fit, direct current', {
    form: { tripEfficiency: '', chargerKind: 'dc', chargerEnergy: '26.2' },
    model: { usableCapacityWh: null },
  }),
  golden('wind without a direction, with gusts', {
    form: { windSpeed: '5', windGust: '9.5' },
    without: 'windFrom',
  }),
  golden('wind with a direction and gusts', { form: { windSpeed: '5', windGust: '8', windFrom: '40' } }),
  golden('calm', { form: { windSpeed: '0', windFrom: '' } }),
  golden('station reports that give the weather and its uncertainty', {
    form: {
      stationReport: REPORTS,
      airTemperature: '17',
      relativeHumidity: '',
      dewPoint: '8',
      airPressure: '1017',
      windSpeed: '8.7',
      windSpeedUnit: 'kn',
      windFrom: '240',
    },
  }),
  golden('station reports beside numbers of another’s own', {
    form: { stationReport: REPORTS, airTemperature: '21.4', windSpeed: '1.2', airPressure: '1009' },
  }),
  golden('sea-level pressure reduced by temperature, on high ground', {
    form: {
      pressureKind: 'qff',
      airPressure: '1021.3',
      airTemperature: '-4',
      dewPoint: '-7',
      relativeHumidity: '',
    },
    loop: { altitudeM: 871 },
  }),
  golden('an instrument of one’s own at the loop', {
    form: {
      pressureKind: 'station',
      airPressure: '986.2',
      conditionsSource: 'ownInstrument',
      stationDistance: '',
    },
  }),
  golden('net climb, and an outbound leg against the wind', {
    loop: { netClimbM: 62, closureHeightM: 62 },
    form: { outboundEnergy: '14.1' },
  }),
  golden('cold, heated by a heat pump, delivered on all-terrain tyres, car display', {
    form: { airTemperature: '-6', climate: 'heating', conditionsSource: 'carDisplay', stationDistance: '' },
    model: { hasHeatPump: true, deliveredTyreKind: 'allTerrain', bodyClass: 'pickup', kerbMassKg: 3110 },
  }),
  golden('auxiliary power read, climate off', { form: { auxiliaryPower: '0.41', climate: 'off' } }),
  golden('no part off cruise: no slow-downs are counted', { loop: { offCruiseShare: 0 } }),
  golden('slower than its class, a duration too long for its cruise', {
    form: { trueSpeed: '65.0', tripDuration: '64', tripMeanSpeed: '' },
  }),
  golden('another class, a van with a distant station', {
    form: {
      cruiseClassKey: 'kmh-120',
      trueSpeed: '118.3',
      trueSpeedUnit: 'km/h',
      indicatedSpeed: '',
      tripDuration: '53.4',
      tripMeanSpeed: '',
      stationDistance: '71',
      traffic: 'dense',
    },
    model: { bodyClass: 'van', kerbMassKg: 2790, usableCapacityWh: null },
  }),
]);
