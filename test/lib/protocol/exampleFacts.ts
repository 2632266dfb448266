import type { ConsistencyCheck } from '@/lib/capture/consistency';
import { type CheckId, checkRules } from '@/lib/capture/consistencyRules';
import { evaluateRun, type FindingResult } from '@/lib/protocol/evaluate';
import type { RunFacts } from '@/lib/protocol/facts';
import type { CompleteParameters, ProtocolParameters } from '@/lib/protocol/parameters';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { quantityField, type RunQuantity } from '@/lib/run/fields/table';
import type { QuantityReading, RunRecord } from '@/lib/run/runRecord';
import { parseQuantity } from '@/lib/units/parse';
import type { UnitCode } from '@/lib/units/unit';

/** A reading as the form would make it from the display's text. */
export function reading(quantity: RunQuantity, enteredText: string, enteredUnit: UnitCode): QuantityReading {
  const { moment, instrument } = quantityField(quantity);
  const parsed = parseQuantity(enteredText, enteredUnit);
  if (!parsed.ok) throw new RangeError(`${quantity}: ${parsed.message}`);
  const { value, low, high } = parsed;
  return { quantity, moment, instrument, enteredText, enteredUnit, value, low, high };
}

/** A reading with a value of any digits and no rounding. */
export function exactReading(quantity: RunQuantity, value: number, enteredUnit: UnitCode): QuantityReading {
  const { moment, instrument } = quantityField(quantity);
  return {
    quantity,
    moment,
    instrument,
    enteredText: String(value),
    enteredUnit,
    value,
    low: value,
    high: value,
  };
}

export function check(id: CheckId, outcome: ConsistencyCheck['outcome']): ConsistencyCheck {
  const quantity = checkRules.find((rule) => rule.id === id)?.quantity;
  if (quantity === undefined) throw new RangeError(`no cross-check ${id}`);
  const interval = { value: 1, low: 0.9, high: 1.1 };
  return {
    id,
    outcome,
    readings: [],
    numbers: outcome === 'notChecked' ? null : { quantity, derived: interval, shown: interval },
    sentence: `The check ${id} is ${outcome}.`,
  };
}

export const ALL_CHECK_IDS: readonly CheckId[] = checkRules.map((rule) => rule.id);

const RECORD: RunRecord = {
  carId: 'car-1',
  setupId: 'setup-1',
  loopId: 'loop-1',
  cruiseClassKey: 'kmh-110',
  startedAt: '2031-05-04T09:30:00+02:00',
  utcOffsetMin: 120,
  localDate: '2031-05-04',
  readings: {
    trueSpeed: reading('trueSpeed', '110.2', 'km/h'),
    indicatedSpeed: reading('indicatedSpeed', '113', 'km/h'),
    withinBandShare: reading('withinBandShare', '96', '%'),
    chargeStart: reading('chargeStart', '80', '%'),
    chargeEnd: reading('chargeEnd', '47', '%'),
    pressureFront: reading('pressureFront', '2.50', 'bar'),
    pressureRear: reading('pressureRear', '2.70', 'bar'),
    placardFront: reading('placardFront', '2.5', 'bar'),
    placardRear: reading('placardRear', '2.7', 'bar'),
    warmUpDistance: reading('warmUpDistance', '18', 'km'),
    loadMass: reading('loadMass', '160', 'kg'),
    tripDistance: reading('tripDistance', '106.9', 'km'),
    tripEnergy: reading('tripEnergy', '22.4', 'kWh'),
    tripDuration: reading('tripDuration', '1:02', 'h'),
    airTemperature: reading('airTemperature', '16', 'degC'),
    windSpeed: reading('windSpeed', '2.4', 'm/s'),
    windGust: reading('windGust', '6.1', 'm/s'),
    stationDistance: reading('stationDistance', '12', 'km'),
  },
  trueSpeedMethod: 'positioning',
  climate: 'off',
  chargerKind: undefined,
  pressureKind: 'qnh',
  precipitation: 'none',
  road: 'dry',
  traffic: 'free',
  closeFollowing: 'none',
  windDirectionKnown: undefined,
  inFront: undefined,
  conditionsSource: 'stationReport',
  stationReport: undefined,
  isRetrospective: false,
  notes: '',
};

function cruiseClass(key: string) {
  const found = cruiseClassByKey(key);
  if (found === undefined) throw new RangeError(`no class ${key}`);
  return found;
}

/** A run of an invented car on an invented loop that passes every rule of every version. */
export const GOOD_RUN: RunFacts = {
  record: RECORD,
  loop: {
    name: 'Saltholm coast',
    lengthM: 106_900,
    lengthUncertaintyM: 100,
    closureDistanceM: 40,
    closureHeightM: 1,
    sharedRouteShare: 0.98,
    offCruiseShare: 0.04,
    postedLimitMps: 110 / 3.6,
    altitudeM: 20,
  },
  cruiseClass: cruiseClass('kmh-110'),
  car: { hasSpeedometerCalibration: false },
  checks: ALL_CHECK_IDS.map((id) => check(id, 'consistent')),
  energy: { relativeResolutionUncertainty: 0.0013, birgeRatio: 0.8 },
  normalisation: {
    ok: true,
    adjustmentRelative: 0.04,
    scale: 1.03,
    windFinding: { impliedHeadwindMps: 1.1, reportedHeadwindMps: 1.5, standardUncertaintyMps: 0.5 },
  },
  evidenceKinds: ['startDisplay', 'finishDisplay'],
  pictures: [],
  photoTimes: [{ at: '2031-05-04T07:29:00.000Z', utcOffsetMin: 120 }],
  study: { plannedStartCharge: 0.8 },
  neighbourhood: {
    runs: [],
    lastDigits: { readings: 60, pValue: 0.4 },
    spread: { runs: 9, dof: 6, ratio: 0.9, pValue: 0.5 },
    spreadOfSetup: { runs: 6, dof: 4, ratio: 0.9, pValue: 0.5 },
    spreadOfCluster: { runs: 18, dof: 12, ratio: 0.9, pValue: 0.5 },
    hasRecording: true,
  },
  now: '2031-05-04T18:00:00Z',
};

export function withRecord(change: Partial<RunRecord>, facts: RunFacts = GOOD_RUN): RunFacts {
  return { ...facts, record: { ...facts.record, ...change } };
}

export function withReading(
  quantity: RunQuantity,
  value: QuantityReading | undefined,
  facts: RunFacts = GOOD_RUN,
): RunFacts {
  return withRecord({ readings: { ...facts.record.readings, [quantity]: value } }, facts);
}

export function photoAt(at: string, utcOffsetMin: number | null, facts: RunFacts = GOOD_RUN): RunFacts {
  return { ...facts, photoTimes: [{ at, utcOffsetMin }] };
}

export function withLoop(change: Partial<RunFacts['loop']>): RunFacts {
  return { ...GOOD_RUN, loop: { ...GOOD_RUN.loop, ...change } };
}

/** The newest version with one section changed. */
export function changed<S extends keyof CompleteParameters>(
  section: S,
  change: Partial<CompleteParameters[S]>,
): CompleteParameters {
  const { parameters } = NEWEST_VERSION;
  return { ...parameters, [section]: { ...parameters[section], ...change } };
}

export function findingOf(
  ruleId: string,
  facts: RunFacts,
  parameters: ProtocolParameters = NEWEST_VERSION.parameters,
): FindingResult {
  const finding = evaluateRun(facts, { label: 'test', parameters }).find((each) => each.ruleId === ruleId);
  if (finding === undefined) throw new RangeError(`no rule ${ruleId}`);
  return finding;
}

export function outcomeOf(ruleId: string, facts: RunFacts, parameters?: ProtocolParameters) {
  return findingOf(ruleId, facts, parameters).outcome;
}
