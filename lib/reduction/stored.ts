import { z } from 'zod';
import type { ReconciledEnergy } from '@/lib/physics/reconcile';
import { storedEnergy, storedNormalisation } from '@/lib/physics/stored';
import { BODY_CLASSES } from '@/lib/run/bodyClass';
import { choiceValues } from '@/lib/run/fields/table';
import { valuesOf } from '@/lib/run/namedValues';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import { UNITS, type UnitCode } from '@/lib/units/unit';
import type { RunPart } from './runParts';
import type { ReductionSnapshot } from './snapshot';
import type { StoredReduction } from './storedReduction';

/**
 * What stored snapshots may look like, by version. A version that was ever written stays readable: a later one is added
 * beside it with the way from the one to the other.
 */
const finite = z.number();
const known = finite.nullable();
/** Where there is no number; JSON has null for it. */
const orNotANumber = known.transform((value) => value ?? Number.NaN);
const tyreKind = z.enum(valuesOf(TYRE_KINDS)).nullable();
const day = z.string().regex(/^\d{4}-\d\d-\d\d$/);
const estimated = z.object({ value: finite, u: finite }).nullable();
const bearings = z.array(z.object({ bearingDeg: finite, share: finite }));

const reading = z.object({
  quantity: z.string(),
  moment: z.string(),
  instrument: z.string(),
  enteredText: z.string(),
  enteredUnit: z.enum(Object.keys(UNITS) as [UnitCode, ...UnitCode[]]),
  value: finite,
  low: finite,
  high: finite,
});

const record = z.object({
  carId: z.string(),
  setupId: z.string(),
  loopId: z.string(),
  cruiseClassKey: z.string(),
  startedAt: z.string(),
  utcOffsetMin: z.int(),
  localDate: day,
  // quantities come and go with the form: one that nobody reads any more does no harm
  readings: z.record(z.string(), reading),
  trueSpeedMethod: z.enum(choiceValues('trueSpeedMethod')),
  climate: z.enum(choiceValues('climate')),
  chargerKind: z.enum(choiceValues('chargerKind')).optional(),
  windDirectionKnown: z.enum(choiceValues('windDirectionKnown')).optional(),
  pressureKind: z.enum(choiceValues('pressureKind')),
  precipitation: z.enum(choiceValues('precipitation')),
  road: z.enum(choiceValues('road')),
  traffic: z.enum(choiceValues('traffic')),
  closeFollowing: z.enum(choiceValues('closeFollowing')),
  conditionsSource: z.enum(choiceValues('conditionsSource')),
  isRetrospective: z.boolean(),
});

const cruiseFigures = z.object({
  meanSpeedMps: finite,
  spreadMps: finite,
  durationS: finite,
  withinBandShare: finite,
  offCruiseShare: finite,
});

const recording = {
  traceId: z.string(),
  distanceM: finite,
  gapDistanceM: finite,
  meanSquareSpeedM2S2: finite,
  cruise: cruiseFigures.nullable(),
  sectorShares: z.array(finite),
  closureDistanceM: finite,
  netClimbM: known,
};
const lengthScale = finite.positive();
const slowDown = { fromMps: finite, toMps: finite };

const loop = {
  id: z.string(),
  name: z.string(),
  lengthM: finite,
  lengthUncertaintyM: finite,
  altitudeM: finite,
  netClimbM: finite,
  closureDistanceM: finite,
  closureHeightM: finite,
  sharedRouteShare: finite,
  offCruiseShare: finite,
  postedLimitMps: finite,
  bearings,
  legs: z.array(z.object({ direction: z.string(), lengthM: finite, netClimbM: finite, bearings })),
};
const driving = z.object({
  recordings: z.int(),
  meanSquareRatio: z.object({ value: finite, u: finite }),
  timeRatio: finite,
  brakingFalls: z.array(z.object({ fromMps: finite, toMps: finite, distanceM: finite, count: finite })),
});

const unchanged = {
  record,
  cruiseClass: z.object({ key: z.string(), label: z.string(), speedMps: finite, ordinal: z.int() }),
  car: z.object({
    id: z.string(),
    registeredMassKg: known,
    usableCapacityWh: known,
    dragAreaM2: known,
    rollingCoefficient: known,
    coastDown: z.object({ f0N: finite, f1NPerKmh: finite, f2NPerKmh2: finite }).nullable(),
    ownValuesSource: z.string().nullable(),
    placardFrontPa: known,
    placardRearPa: known,
  }),
  model: z.object({
    id: z.string(),
    bodyClass: z.enum(valuesOf(BODY_CLASSES)),
    kerbMassKg: finite,
    usableCapacityWh: known,
    dragAreaM2: known,
    dragAreaSource: z.string().nullable(),
    hasHeatPump: z.boolean(),
    deliveredTyreKind: tyreKind,
  }),
  setup: z.object({
    id: z.string(),
    levels: z.array(z.object({ factor: z.string(), levelId: z.string(), isBaseline: z.boolean(), tyreKind })),
  }),
  calibrations: z.array(
    z.object({
      instrument: z.string(),
      factor: finite,
      standardUncertainty: finite,
      measuredOn: day,
      odometerM: known,
      invalidatedOn: day.nullable(),
    }),
  ),
  weather: z
    .object({
      temperatureC: estimated,
      dewPointC: estimated,
      relativeHumidity: estimated,
      altimeterPa: estimated,
      windSpeedMps: estimated,
    })
    .nullable(),
};

/** Null where the first version was silent: while it was written, there was none or the method did not ask for it. */
const orSilent = <Schema extends z.ZodType>(schema: Schema) =>
  schema.optional().transform((value) => value ?? null);

const version1 = z
  .object({
    version: z.literal(1),
    ...unchanged,
    loop: z.object({ ...loop, driving: orSilent(driving) }),
    recording: z
      .object({
        ...recording,
        slowDowns: z.array(z.object({ ...slowDown, fallM: orSilent(finite) })),
        durationS: orSilent(finite),
        lengthScale: orSilent(lengthScale),
      })
      .nullable(),
  })
  .transform((snapshot) => ({ ...snapshot, version: 2 as const }));

const version2 = z.object({
  version: z.literal(2),
  ...unchanged,
  loop: z.object({ ...loop, driving: driving.nullable() }),
  recording: z
    .object({
      ...recording,
      slowDowns: z.array(z.object({ ...slowDown, fallM: known })),
      durationS: known,
      lengthScale: lengthScale.nullable(),
    })
    .nullable(),
});

const isVersion1 = z.object({ version: z.literal(1) });

export type SnapshotReading = { ok: true; snapshot: ReductionSnapshot } | { ok: false; message: string };

/** A snapshot from the store's JSON, of any version that was ever written; or why it is none. */
export function readSnapshot(stored: unknown): SnapshotReading {
  const parsed = (isVersion1.safeParse(stored).success ? version1 : version2).safeParse(stored);
  if (parsed.success) return { ok: true, snapshot: parsed.data as ReductionSnapshot };
  const [issue] = parsed.error.issues;
  return { ok: false, message: `${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not a snapshot'}` };
}

const legWind = z.object({
  impliedHeadwindMps: finite,
  reportedHeadwindMps: finite,
  standardUncertaintyMps: finite,
});

const runDistance = z.object({
  distanceM: finite,
  uM: finite,
  source: z.enum(['loop', 'loopAndDisplay']),
  display: z.object({ distanceM: finite, uM: finite, isCalibrated: z.boolean() }).nullable(),
});

const speedSource = z.enum(['stated', 'calibratedSpeedometer', 'trace']);

const runSpeed = z.object({
  cruiseSpeedMps: finite,
  uMps: finite,
  source: speedSource,
  crossCheck: z
    .object({ statedMps: finite, calibratedMps: finite, uDifferenceMps: finite, agrees: z.boolean() })
    .nullable(),
  refusal: z.string().nullable(),
  // a run without a typed speed has none of its own
  byForm: z
    .object({ cruiseSpeedMps: orNotANumber, uMps: orNotANumber, source: speedSource, agrees: z.boolean() })
    .optional(),
});

const valueSource = z.object({ of: z.enum(['car', 'learned', 'model', 'prior']), words: z.string() });

const valueSources = z.object({
  massKg: valueSource,
  dragAreaM2: valueSource,
  rollingCoefficient: valueSource,
  linearRollingNPerMps: valueSource.optional(),
});

const takenFrom = z.enum(['trace', 'other']);

const traceUse = z.object({
  traceId: z.string(),
  distanceM: finite,
  lengthScale: finite.optional(),
  distanceCheck: z.object({ loopLengthM: finite, uDifferenceM: finite, agrees: z.boolean() }),
  reasonsNotUsed: z.array(z.string()),
  sources: z.object({
    cruiseSpeed: takenFrom,
    meanSquareSpeed: takenFrom,
    slowDowns: takenFrom,
    bearings: takenFrom,
    netClimb: takenFrom,
  }),
  cruise: cruiseFigures.nullable(),
});

/** Added after the first version of the method, so there may be none of it: nor is there of one that cannot be read. */
const perhaps = <Schema extends z.ZodType>(schema: Schema) => schema.optional().catch(undefined);

const result = z.object({
  energy: storedEnergy,
  legWind: legWind.nullable(),
  normalisation: storedNormalisation,
  distance: perhaps(runDistance),
  speed: perhaps(runSpeed),
  sources: perhaps(valueSources),
  trace: perhaps(traceUse.nullable()),
});

/** Kept since the first version of the method. */
type AlwaysKept = 'energy' | 'legWind' | 'normalisation';

export type ReadReduction = Pick<StoredReduction, AlwaysKept> & Partial<Omit<StoredReduction, AlwaysKept>>;

/** The energy of a `result` alone, for those who read that of many runs. Never throws. */
export function readEnergy(stored: unknown): ReconciledEnergy | undefined {
  return storedEnergy.safeParse(stored).data;
}

/** The column `result` of a normalisation; undefined where what every version kept cannot be read. Never throws. */
export function readReduction(stored: unknown): ReadReduction | undefined {
  return result.safeParse(stored).data;
}

const parts: z.ZodType<RunPart[]> = z.array(
  z.object({
    input: z.string(),
    scope: z.enum(['session', 'car', 'model', 'method']),
    key: z.string(),
    contribution: finite,
  }),
);

/**
 * The column `parts` of a counted run. Read whole or not at all: with one part missing a fit would take what runs share
 * for what sets them apart. Never throws.
 */
export function readParts(stored: unknown): RunPart[] | undefined {
  return parts.safeParse(stored).data;
}
