import { toCanonical } from '@/lib/units/unit';
import type { ProtocolParameters, ShippedVersion } from '../parameters';

const kmh = (speedKmh: number): number => toCanonical(speedKmh, 'km/h');

/**
 * The first protocol version: the limits of method A5 as starting values of the registry's own.
 * They follow the spirit of coast-down practice; none of them is a standard's number.
 */
const parameters = {
  loopClosure: {
    distancePassUpToM: 200,
    distanceCautionUpToM: 500,
    heightPassUpToM: 5,
    heightCautionUpToM: 10,
  },
  sharedRoute: { passFromShare: 0.95, cautionFromShare: 0.9 },
  offCruise: { passUpToShare: 0.08, cautionUpToShare: 0.15 },
  loopDistance: { passUpToShare: 0.02, cautionUpToShare: 0.05, coverageFactor: 2 },
  trueSpeed: {
    positioning: 'pass',
    calibratedSpeedometer: 'pass',
    calibrationMissing: 'fail',
    notVerified: 'fail',
  },
  cruiseSpeed: { passUpToMps: kmh(1.5), cautionUpToMps: kmh(3) },
  speedBand: { halfWidthMps: kmh(3), passFromShare: 0.9, cautionFromShare: 0.8 },
  speedometer: { overReadingShare: 0.1, overReadingOffsetMps: kmh(4), underReadingMps: 0 },
  tyrePressure: { passUpToShare: 0.05, cautionUpToShare: 0.1 },
  warmUp: { passFromM: 10_000, cautionFromM: 5000 },
  climate: { off: 'pass', mild: 'pass', cooling: 'caution', heating: 'caution' },
  startCharge: { passUpToShare: 0.02, cautionUpToShare: 0.1 },
  endCharge: { passFromShare: 0.1, cautionFromShare: 0.05 },
  energyResolution: { passUpToShare: 0.01, cautionUpToShare: 0.02 },
  energyAgreement: { cautionAboveBirgeRatio: 2, cautionBelowPValue: 0.01, failBelowPValue: 0.0001 },
  disagreement: {
    efficiency: 'fail',
    outboundEfficiency: 'caution',
    meanSpeed: 'fail',
    meanBelowCruise: 'fail',
    shownMeanBelowCruise: 'fail',
    // The usable capacity of an aged battery is known less well than its data sheet says.
    chargeDrop: 'caution',
    finishChargeBelowStart: 'fail',
    turnaroundChargeBelowStart: 'fail',
    finishChargeBelowTurnaround: 'fail',
    // A car heated or cooled while charging draws more than its battery gains.
    chargerEnergy: 'caution',
    turnaroundEnergy: 'fail',
    turnaroundDistance: 'fail',
    turnaroundTime: 'fail',
    odometer: 'caution',
  },
  airTemperature: { cautionFromC: -20, passFromC: 5, passToC: 35, cautionToC: 45 },
  wind: { passUpToMps: 5, cautionUpToMps: 8 },
  legWind: { passUpToStandardUncertainties: 2 },
  road: { dry: 'pass', damp: 'caution', wet: 'fail', snow: 'fail' },
  precipitation: { none: 'pass', rain: 'fail', snow: 'fail' },
  traffic: { free: 'pass', moderate: 'pass', dense: 'caution' },
  closeFollowing: { none: 'pass', some: 'fail' },
  conditionsSource: {
    stationReport: 'pass',
    ownInstrument: 'pass',
    carDisplay: 'caution',
    forecast: 'caution',
  },
  stationDistance: { passUpToM: 30_000, cautionUpToM: 80_000 },
  date: { aheadUpToS: 300 },
  retrospective: { outcome: 'caution', whenMissing: 'caution' },
  normalisation: { outOfReach: 'caution' },
  adjustment: { passUpToShare: 0.15, cautionUpToShare: 0.3 },
  scale: { cautionFrom: 0.5, passFrom: 0.75, passTo: 1.35, cautionTo: 2 },
  whenMissing: {
    trueSpeed: 'fail',
    withinBandShare: 'notChecked',
    tripDistance: 'fail',
    coldPressures: 'caution',
    warmUp: 'caution',
    load: 'caution',
    chargeStart: 'caution',
    chargeEnd: 'caution',
    airTemperature: 'fail',
    wind: 'fail',
    stationDistance: 'caution',
    startDisplayPhoto: 'fail',
    finishDisplayPhoto: 'fail',
  },
  ranking: { runs: 3, sessions: 2, cars: 1, carsAcrossModels: 3 },
  screening: { stragglerLevel: 0.05, outlierLevel: 0.01, secondApprovalOnNewLead: true },
} satisfies ProtocolParameters;

export const PROTOCOL_V1 = {
  label: '1.0',
  summary:
    'Starting limits of our own for steady runs on a closed out-and-back loop: mild, dry, calm weather, a verified speed, a warm car on placard pressures, readings that agree with each other, and small adjustments.',
  parameters,
} satisfies ShippedVersion;
