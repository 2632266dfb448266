import type { ComponentOrigin, GroupFit } from '@/lib/stats/groupFit';
import type { ReaderVariance } from '@/lib/stats/readerEstimate';

/** What an estimate may be off by, in parts that a reader can name. */
const PART_KEYS = [
  'runs',
  'cars',
  'roads',
  'days',
  'trips',
  'air',
  'rolling',
  'weight',
  'drivetrain',
  'wind',
  'weather',
  'cabin',
  'display',
  'coldBattery',
  'road',
  'capacity',
] as const;
export type PartKey = (typeof PART_KEYS)[number];

export interface EstimatePart {
  readonly key: PartKey;
  /** `partly`: measured, and drawn toward what is believed of a young class. */
  readonly basis: 'measured' | 'partly' | 'assumed';
  /** Of ln of the answer; the parts add up to its variance. */
  readonly variance: number;
}

/** By the name of an input in the engine's budget; what is not named is of road, tyres and traffic. */
const PART_OF: ReadonlyMap<string, PartKey> = new Map(
  Object.entries<PartKey>({
    dragAreaM2: 'air',
    dragOfSetup: 'air',
    yawDragPerRad2: 'air',
    rollingCoefficient: 'rolling',
    rollingOfSetup: 'rolling',
    linearRollingNPerMps: 'rolling',
    rollingTemperaturePerK: 'rolling',
    massKg: 'weight',
    drivetrainEfficiency: 'drivetrain',
    recuperationShare: 'drivetrain',
    alongWindMps: 'wind',
    crossWindMps: 'wind',
    meanHeadwindMps: 'wind',
    airTemperatureC: 'weather',
    airDensityKgM3: 'weather',
    pressurePa: 'weather',
    relativeHumidity: 'weather',
    densityEquation: 'weather',
    auxiliaryPowerW: 'cabin',
    auxiliaryHabitW: 'cabin',
    displayScaleOfModelShare: 'display',
    displayScaleOfCarShare: 'display',
    batteryTemperatureShare: 'coldBattery',
    batteryTemperatureCommonShare: 'coldBattery',
  }),
);

const BASIS: Record<ComponentOrigin, EstimatePart['basis']> = {
  own: 'measured',
  pooled: 'measured',
  moderated: 'partly',
  assumed: 'assumed',
  none: 'measured',
};

/** Smaller than this is as good as nothing. */
const NOTHING = 1e-12;

/**
 * The parts of an answer's variance, largest first. What the runs showed is measured; what a class borrows, what is
 * believed of models and of the method, and the reader's own day are assumed.
 *
 * @param capacity relative variance of the battery's energy, where the answer is a range
 */
export function estimateParts(
  { parts, inputs }: Pick<ReaderVariance, 'parts' | 'inputs'>,
  origins: GroupFit['origins'],
  capacity: { readonly variance: number; readonly isMeasured: boolean } | undefined,
): EstimatePart[] {
  const found = new Map<string, EstimatePart>();
  const add = (key: PartKey, basis: EstimatePart['basis'], variance: number) => {
    const known = found.get(`${key} ${basis}`);
    found.set(`${key} ${basis}`, { key, basis, variance: (known?.variance ?? 0) + variance });
  };
  add('runs', 'measured', parts.fit);
  add('cars', BASIS[origins.car], parts.car);
  add('roads', BASIS[origins.carLoop], parts.carLoop);
  add('days', BASIS[origins.session], parts.session);
  add('trips', BASIS[origins.residual], parts.run);
  for (const { key, variance } of inputs) {
    const [input = ''] = key.split(' of ');
    add(PART_OF.get(input) ?? 'road', 'assumed', variance);
  }
  if (capacity !== undefined)
    add('capacity', capacity.isMeasured ? 'measured' : 'assumed', capacity.variance);
  return [...found.values()]
    .filter(({ variance }) => variance > NOTHING)
    .sort((a, b) => b.variance - a.variance);
}
