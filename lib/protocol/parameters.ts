import { z } from 'zod';
import type { CheckId } from '@/lib/capture/consistencyRules';
import {
  absence,
  ascending,
  choice,
  count,
  limit,
  markedAbsence,
  probability,
  share,
  temperature,
  verdict,
} from './parameterKinds';

const agreement = {
  efficiency: verdict('Energy ÷ distance against the shown consumption'),
  outboundEfficiency: verdict('Energy ÷ distance at the turnaround against the consumption shown there'),
  meanSpeed: verdict('Distance ÷ time against the shown mean speed'),
  meanBelowCruise: verdict('Distance ÷ time not above the cruise speed'),
  shownMeanBelowCruise: verdict('Shown mean speed not above the cruise speed'),
  chargeDrop: verdict('Charge used × usable capacity against the energy'),
  finishChargeBelowStart: verdict('Charge at finish not above that at start'),
  turnaroundChargeBelowStart: verdict('Charge at turnaround not above that at start'),
  finishChargeBelowTurnaround: verdict('Charge at finish not above that at turnaround'),
  chargerEnergy: verdict('Charger energy against the energy'),
  turnaroundEnergy: verdict('Energy at turnaround not above the total'),
  turnaroundDistance: verdict('Distance at turnaround not above the total'),
  turnaroundTime: verdict('Time at turnaround not above the total'),
  odometer: verdict('Odometer difference against the trip distance'),
} satisfies Record<CheckId, z.ZodType>;

/**
 * Every number and choice of a protocol version (method A5), in canonical units, the unit last in the name.
 * All are starting values of the registry's own; none is quoted from a standard.
 * Every leaf carries a label and the unit that it is best shown in, so that pages can list and edit it.
 */
export const protocolParametersSchema = z.strictObject({
  loopClosure: ascending(
    {
      distancePassUpToM: limit('Start to finish, pass up to', 'm'),
      distanceCautionUpToM: limit('Start to finish, caution up to', 'm'),
      heightPassUpToM: limit('Height of start to finish, pass up to', 'm'),
      heightCautionUpToM: limit('Height of start to finish, caution up to', 'm'),
    },
    ['distancePassUpToM', 'distanceCautionUpToM'],
    ['heightPassUpToM', 'heightCautionUpToM'],
  ),
  sharedRoute: ascending(
    {
      passFromShare: share('Route shared by the legs, pass from'),
      cautionFromShare: share('Route shared by the legs, caution from'),
    },
    ['cautionFromShare', 'passFromShare'],
  ),
  offCruise: ascending(
    {
      passUpToShare: share('Distance off cruise speed, pass up to'),
      cautionUpToShare: share('Distance off cruise speed, caution up to'),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  loopDistance: ascending(
    {
      passUpToShare: share('Trip distance off the loop’s length, pass up to'),
      cautionUpToShare: share('Trip distance off the loop’s length, caution up to'),
      coverageFactor: limit('Standard uncertainties of the loop’s length allowed for', ''),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  trueSpeed: z.strictObject({
    positioning: verdict('True speed from satellite positioning'),
    calibratedSpeedometer: verdict('True speed from a calibrated speedometer'),
    calibrationMissing: verdict('Calibration named but none valid on the date'),
    notVerified: verdict('True speed not verified'),
  }),
  cruiseSpeed: ascending(
    {
      passUpToMps: limit('Cruise speed off its class, pass up to', 'km/h'),
      cautionUpToMps: limit('Cruise speed off its class, caution up to', 'km/h'),
    },
    ['passUpToMps', 'cautionUpToMps'],
  ),
  speedBand: ascending(
    {
      halfWidthMps: limit('Half-width of the speed band', 'km/h'),
      passFromShare: share('Cruise time within the band, pass from'),
      cautionFromShare: share('Cruise time within the band, caution from'),
    },
    ['cautionFromShare', 'passFromShare'],
  ),
  speedometer: z.strictObject({
    overReadingShare: share('Speedometer may show more than true by this share'),
    overReadingOffsetMps: limit('Speedometer may show more than true by this, besides the share', 'km/h'),
    underReadingMps: limit('Speedometer may show less than true by', 'km/h'),
  }),
  tyrePressure: ascending(
    {
      passUpToShare: share('Cold pressure off the placard, pass up to'),
      cautionUpToShare: share('Cold pressure off the placard, caution up to'),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  warmUp: ascending(
    {
      passFromM: limit('Warm-up, pass from', 'km'),
      cautionFromM: limit('Warm-up, caution from', 'km'),
    },
    ['cautionFromM', 'passFromM'],
  ),
  climate: z.strictObject({
    off: verdict('Climate off, auxiliary power not read'),
    mild: verdict('Climate mild, auxiliary power not read'),
    cooling: verdict('Cooling, auxiliary power not read'),
    heating: verdict('Heating, auxiliary power not read'),
  }),
  startCharge: ascending(
    {
      passUpToShare: share('Start charge off the study’s, pass up to'),
      cautionUpToShare: share('Start charge off the study’s, caution up to'),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  endCharge: ascending(
    {
      passFromShare: share('Charge at finish, pass from'),
      cautionFromShare: share('Charge at finish, caution from'),
    },
    ['cautionFromShare', 'passFromShare'],
  ),
  energyResolution: ascending(
    {
      passUpToShare: share('Standard uncertainty of the energy from resolution, pass up to'),
      cautionUpToShare: share('Standard uncertainty of the energy from resolution, caution up to'),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  energyAgreement: ascending(
    {
      cautionAboveBirgeRatio: limit('Birge ratio of the energy readings, caution above', ''),
      failBelowPValue: probability('χ² test of the energy readings, fail below'),
      cautionBelowPValue: probability('χ² test of the energy readings, caution below'),
    },
    ['failBelowPValue', 'cautionBelowPValue'],
  ),
  /** What a failed cross-check of readings counts as. */
  disagreement: z.strictObject(agreement),
  airTemperature: ascending(
    {
      cautionFromC: temperature('Air temperature, caution from'),
      passFromC: temperature('Air temperature, pass from'),
      passToC: temperature('Air temperature, pass up to'),
      cautionToC: temperature('Air temperature, caution up to'),
    },
    ['cautionFromC', 'passFromC', 'passToC', 'cautionToC'],
  ),
  wind: ascending(
    {
      passUpToMps: limit('Mean wind, pass up to', 'm/s'),
      cautionUpToMps: limit('Mean wind, caution up to', 'm/s'),
    },
    ['passUpToMps', 'cautionUpToMps'],
  ),
  legWind: z.strictObject({
    passUpToStandardUncertainties: limit('Legs’ wind off the report, pass up to standard uncertainties', ''),
  }),
  road: z.strictObject({
    dry: verdict('Road dry'),
    damp: verdict('Road damp'),
    wet: verdict('Road wet'),
    snow: verdict('Snow or ice on the road'),
  }),
  precipitation: z.strictObject({
    none: verdict('No precipitation'),
    rain: verdict('Rain'),
    snow: verdict('Snow or sleet'),
  }),
  traffic: z.strictObject({
    free: verdict('Traffic free'),
    moderate: verdict('Traffic moderate'),
    dense: verdict('Traffic dense'),
  }),
  closeFollowing: z.strictObject({
    none: verdict('No close following'),
    some: verdict('Close following for a part'),
  }),
  conditionsSource: z.strictObject({
    stationReport: verdict('Weather from a station report'),
    ownInstrument: verdict('Weather from an own instrument'),
    carDisplay: verdict('Weather from the car’s display'),
    forecast: verdict('Weather from a forecast'),
  }),
  stationDistance: ascending(
    {
      passUpToM: limit('Weather station’s distance, pass up to', 'km'),
      cautionUpToM: limit('Weather station’s distance, caution up to', 'km'),
    },
    ['passUpToM', 'cautionUpToM'],
  ),
  date: z.strictObject({
    aheadUpToS: limit('Finish ahead of the clock, pass up to', 'min'),
  }),
  retrospective: z.strictObject({
    outcome: verdict('Run recorded afterwards'),
    whenMissing: markedAbsence('Anything missing from a run recorded afterwards'),
  }),
  normalisation: z.strictObject({
    outOfReach: verdict('Run out of the method’s reach'),
  }),
  adjustment: ascending(
    {
      passUpToShare: share('Sum of adjustments, pass up to'),
      cautionUpToShare: share('Sum of adjustments, caution up to'),
    },
    ['passUpToShare', 'cautionUpToShare'],
  ),
  scale: ascending(
    {
      cautionFrom: limit('Scale of the road load, caution from', ''),
      passFrom: limit('Scale of the road load, pass from', ''),
      passTo: limit('Scale of the road load, pass up to', ''),
      cautionTo: limit('Scale of the road load, caution up to', ''),
    },
    ['cautionFrom', 'passFrom', 'passTo', 'cautionTo'],
  ),
  /** What the absence of a reading or photo counts as, for a run recorded as it was driven. */
  whenMissing: z.strictObject({
    trueSpeed: absence('True cruise speed not noted'),
    withinBandShare: absence('Share within the speed band not known'),
    tripDistance: absence('Trip distance not noted'),
    coldPressures: absence('Cold tyre pressures or placard not noted'),
    warmUp: absence('Warm-up not noted'),
    load: absence('People and load not noted'),
    chargeStart: absence('Charge at start not noted'),
    chargeEnd: absence('Charge at finish not noted'),
    airTemperature: absence('Air temperature not noted'),
    wind: absence('Wind not noted'),
    stationDistance: absence('Distance of the weather station not noted'),
    startDisplayPhoto: absence('No photo of the display at start'),
    finishDisplayPhoto: absence('No photo of the display at finish'),
  }),
  /** What a setup needs before it is ranked; used by the rankings, not by a rule. */
  ranking: z.strictObject({
    runs: count('Runs before a setup is ranked'),
    sessions: count('Sessions before a setup is ranked'),
    cars: count('Cars before a setup is ranked'),
    carsAcrossModels: count('Cars on each side before two models are ranked against each other'),
  }),
  /** When a decision needs a second look; used by the review, not by a rule. */
  screening: ascending(
    {
      stragglerLevel: probability('Level at which a run is marked as straggling'),
      outlierLevel: probability('Level at which a run asks for a second approval'),
      secondApprovalOnNewLead: choice('A run that changes a lead asks for a second approval'),
    },
    ['outlierLevel', 'stragglerLevel'],
  ),
});

export type ProtocolParameters = z.infer<typeof protocolParametersSchema>;
export type MissingItem = keyof ProtocolParameters['whenMissing'];

/** A protocol version as the rules need it. */
export interface ProtocolVersion {
  label: string;
  parameters: ProtocolParameters;
}
