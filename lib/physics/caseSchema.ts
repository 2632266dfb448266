import { z } from 'zod';
import { BODY_CLASSES } from '@/lib/run/bodyClass';
import { choiceValues } from '@/lib/run/fields/table';
import { valuesOf } from '@/lib/run/namedValues';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import { INPUT_NAMES, RETIRED_INPUT_NAMES } from './inputs';

/**
 * The JSON form of a run to normalise: the boundary of the engine. Past `parse`, the types are trusted.
 * Units are in the names; shares are 0..1. Bounds refuse what no car on a road can show, not what is merely unusual.
 */
const finite = z.number();
const positive = finite.positive();
const share = finite.min(0).max(1);

const coastDown = z
  .strictObject({
    f0N: finite.nonnegative().describe('Constant term in N, corrected to 20 °C'),
    f1NPerKmh: finite.describe('Linear term in N/(km/h)'),
    f2NPerKmh2: positive.describe('Quadratic term in N/(km/h)², at 20 °C and 100 kPa'),
  })
  .describe('Road-load coefficients of the car itself (UN GTR No. 15); they override drag area and rolling');

const vehicle = z
  .strictObject({
    massKg: finite.min(200).max(50_000).describe('Mass as driven: registered kerb mass and load'),
    dragAreaM2: finite.min(0.1).max(10).optional().describe('Drag coefficient times frontal area'),
    bodyClass: z
      .enum(valuesOf(BODY_CLASSES))
      .optional()
      .describe('Gives a prior for the drag area when that is not known'),
    rollingCoefficient: finite.min(0.002).max(0.1).optional().describe('At 20 °C'),
    tyreKind: z.enum(valuesOf(TYRE_KINDS)).optional().describe('Gives a prior for the rolling coefficient'),
    dragOfSetup: finite
      .min(0.2)
      .max(5)
      .optional()
      .describe('Of the setup driven, over that of the setup for which the drag area holds'),
    rollingOfSetup: finite.min(0.2).max(5).optional().describe('Likewise of the rolling coefficient'),
    coastDown: coastDown.optional(),
    drivetrainEfficiency: finite.min(0.3).max(1).optional().describe('Battery to wheel'),
    yawDragPerRad2: finite.min(0).max(20).optional().describe('Relative rise of drag per squared yaw angle'),
  })
  .superRefine((value, context) => {
    if (value.coastDown !== undefined) return;
    if (value.dragAreaM2 === undefined && value.bodyClass === undefined) {
      context.addIssue({
        code: 'custom',
        path: ['dragAreaM2'],
        message: 'give dragAreaM2, bodyClass or coastDown',
      });
    }
    if (value.rollingCoefficient === undefined && value.tyreKind === undefined) {
      context.addIssue({
        code: 'custom',
        path: ['rollingCoefficient'],
        message: 'give rollingCoefficient, tyreKind or coastDown',
      });
    }
  });

const slowDown = z
  .strictObject({
    fromMps: positive.max(100),
    toMps: finite.min(0).max(100),
    distanceM: finite
      .nonnegative()
      .max(100_000)
      .optional()
      .describe('Driven while slowing down; without it, that of a usual deceleration'),
    count: positive
      .max(10_000)
      .optional()
      .describe('How often; a mean over recordings of a loop need not be whole'),
  })
  .refine((value) => value.toMps < value.fromMps, { path: ['toMps'], message: 'must be below fromMps' });

const conditions = z
  .strictObject({
    precipitation: z.enum(['none', 'rain', 'snow']).optional(),
    roadSurface: z.enum(['dry', 'damp', 'wet', 'snow']).optional(),
    traffic: z.enum(choiceValues('traffic')).optional(),
  })
  .describe('What was seen on the road; not corrected for');

const run = z
  .strictObject({
    distanceM: finite.min(100).max(5_000_000).describe('True distance of the closed loop'),
    energyWh: positive.max(10_000_000).describe('Drawn from the battery over the loop'),
    durationS: positive.max(1_000_000),
    cruiseSpeedMps: finite.min(1).max(100).describe('True speed held on the open legs'),
    meanSquareSpeedM2S2: positive
      .max(10_000)
      .optional()
      .describe('Distance-weighted mean of squared true speed, from a trace'),
    meanSquareRatio: positive
      .max(4)
      .optional()
      .describe('Mean of squared speed over squared cruise speed on this loop, from recordings of it'),
    timeRatio: positive
      .max(20)
      .optional()
      .describe('Duration over that of cruising all the way on this loop, from recordings of it'),
    offCruiseShare: share.optional().describe('Share of the distance off cruise, when there is no trace'),
    airTemperatureC: finite.min(-60).max(60),
    airDensityKgM3: finite.min(0.4).max(1.8).optional(),
    pressurePa: finite
      .min(40_000)
      .max(110_000)
      .optional()
      .describe('Station pressure, not reduced to sea level'),
    relativeHumidity: share.optional(),
    windHoldsItsUncertainty: z
      .boolean()
      .optional()
      .describe('The rms winds hold the expectation of what is not known of them, w² + u²'),
    alongWindMps: finite.min(-60).max(60).describe('rms along the route at car height'),
    crossWindMps: finite.min(-60).max(60).describe('rms across the route at car height'),
    meanHeadwindMps: finite
      .min(-30)
      .max(30)
      .optional()
      .describe('Distance-weighted mean; 0 on a closed loop'),
    netClimbM: finite.min(-3000).max(3000),
    auxiliaryPowerW: finite.min(0).max(20_000).optional(),
    climate: z
      .enum(choiceValues('climate'))
      .optional()
      .describe('Gives a prior for auxiliary power when that is not known'),
    hasHeatPump: z.boolean().optional(),
    stops: z
      .union([z.int().min(0).max(10_000), z.array(slowDown).max(10_000)])
      .optional()
      .describe('Count of full stops from cruise, or a list of slow-downs'),
    conditions: conditions.optional(),
  })
  .superRefine((value, context) => {
    if (value.airDensityKgM3 === undefined) {
      if (value.pressurePa === undefined) {
        context.addIssue({
          code: 'custom',
          path: ['pressurePa'],
          message: 'give airDensityKgM3, or pressurePa and relativeHumidity',
        });
      }
      if (value.relativeHumidity === undefined) {
        context.addIssue({
          code: 'custom',
          path: ['relativeHumidity'],
          message: 'give airDensityKgM3, or pressurePa and relativeHumidity',
        });
      }
    }
    if (value.auxiliaryPowerW === undefined && value.climate === undefined) {
      context.addIssue({
        code: 'custom',
        path: ['auxiliaryPowerW'],
        message: 'give auxiliaryPowerW or climate',
      });
    }
    if (value.distanceM / value.durationS > 100) {
      context.addIssue({
        code: 'custom',
        path: ['durationS'],
        message: 'distance over duration is above 100 m/s',
      });
    }
  });

const reference = z
  .strictObject({
    cruiseSpeedMps: finite
      .min(1)
      .max(100)
      .optional()
      .describe("The run's class; the run's own speed when absent"),
    airDensityKgM3: finite.min(0.4).max(1.8).optional(),
    airTemperatureC: finite.min(-60).max(60).optional(),
    auxiliaryPowerW: finite.min(0).max(20_000).optional(),
  })
  .describe('Defaults: 1.189 kg/m³, 20 °C, 500 W; no wind, no net climb, no stops');

const inputUncertainty = z
  .strictObject({
    u: finite.nonnegative().optional().describe('Standard uncertainty'),
    halfWidth: finite
      .nonnegative()
      .optional()
      .describe('Of a rectangular or triangular distribution, instead of u'),
    distribution: z.enum(['normal', 'rectangular', 'triangular']).optional(),
    dof: finite.min(1).optional().describe('Degrees of freedom; infinite when absent'),
    scope: z.enum(['run', 'session', 'car', 'model', 'method']).optional(),
  })
  .refine((value) => (value.u === undefined) !== (value.halfWidth === undefined), {
    path: ['u'],
    message: 'give either u or halfWidth',
  })
  .refine((value) => value.halfWidth === undefined || (value.distribution ?? 'normal') !== 'normal', {
    path: ['distribution'],
    message: 'a halfWidth needs a rectangular or triangular distribution',
  });

const correlation = z.strictObject({
  inputs: z
    .tuple([z.enum(INPUT_NAMES), z.enum(INPUT_NAMES)])
    .refine(([a, b]) => a !== b, { message: 'name two different inputs' }),
  coefficient: finite.min(-1).max(1),
});

export const normalisationCaseSchema = z
  .strictObject({
    name: z.string().max(200).optional(),
    vehicle,
    run,
    reference: reference.optional(),
    uncertainty: z
      .partialRecord(z.enum([...INPUT_NAMES, ...RETIRED_INPUT_NAMES]), inputUncertainty)
      .optional(),
    correlations: z.array(correlation).max(50).optional(),
  })
  .meta({
    title: 'Run to normalise',
    description: 'Readings, conditions and car of one run over a closed loop.',
  });

export type NormalisationCase = z.infer<typeof normalisationCaseSchema>;
export type CaseRun = NormalisationCase['run'];

/** The published JSON Schema (draft 2020-12) of the input. */
export function caseJsonSchema(): object {
  return z.toJSONSchema(normalisationCaseSchema);
}
