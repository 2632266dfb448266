import { factorLabel } from '@/lib/run/factors';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { type Change, changedColumns } from '../corrections/change';
import { changeRows } from '../corrections/changeWords';

/** Why two entries cannot become one, in words with what to do; undefined where they can. */

/** What a run is computed or judged from; where a value is from is not. */
const CAR_VALUES = [
  'registeredMassKg',
  'usableCapacityWh',
  'usableCapacityUWh',
  'dragAreaM2',
  'rollingCoefficient',
  'coastDownF0N',
  'coastDownF1NPerKmh',
  'coastDownF2NPerKmh2',
  'placardFrontPa',
  'placardRearPa',
] as const;

const MODEL_VALUES = ['bodyClass', 'kerbMassKg', 'usableCapacityWh', 'dragAreaM2', 'hasHeatPump'] as const;

type Values<Names extends string> = { [Name in Names]: string | number | boolean | null };

export type CarToHold = Values<(typeof CAR_VALUES)[number]> & {
  id: string;
  name: string;
  ownerId: string;
  modelId: string;
  world: string;
  hiddenAt: Date | null;
};

/** Of the car that would go: runs that were ever sent in, and those that somebody still has to send or decide on. */
export function refusalOfCars(
  from: CarToHold,
  into: CarToHold,
  runs: { sent: number; open: number },
): string | undefined {
  if (from.id === into.id) return 'A car is not merged with itself.';
  if (from.world !== into.world) return 'The two belong to different worlds.';
  if (into.hiddenAt !== null) return 'The car that would stay is hidden. Show it first.';
  if (from.modelId !== into.modelId)
    return 'They are of two models. Where these are one, merge the models first; else these are two cars.';
  if (from.ownerId !== into.ownerId && runs.open > 0)
    return 'Its tester has drafts or runs with it that are not decided on: with a car of somebody else’s they could not be sent. Have them decided on or removed first.';
  return runs.sent > 0 ? differing('car', changedColumns(from, into, CAR_VALUES)) : undefined;
}

export type LevelToHold = {
  id: string;
  factor: string;
  key: string;
  label: string;
  tyreKind: string | null;
  isBaseline: boolean;
  sharedLevelId: string | null;
  hiddenAt: Date | null;
};

/** `sent`: whether a run was ever sent in with the level that would go. */
export function refusalOfLevels(from: LevelToHold, into: LevelToHold, sent: number): string | undefined {
  if (from.id === into.id) return 'A level is not merged with itself.';
  if (from.factor !== into.factor) return 'They are levels of two factors.';
  if (into.hiddenAt !== null) return 'The level that would stay is hidden. Show it first.';
  if (from.isBaseline)
    return 'The level that would go is the one that the car is delivered with. Merge the other one into it.';
  if (into.isBaseline && sent > 0)
    return 'Runs were sent in with the one as a change to the car as delivered, and the other is the car as delivered: their numbers were made from that. Rename the level instead.';
  return ofKind(from, into);
}

function ofKind(from: LevelToHold, into: LevelToHold): string | undefined {
  if (from.tyreKind !== into.tyreKind)
    return `${factorLabel(from.factor)}: “${from.label}” and “${into.label}” are two kinds of tyre, with a rolling resistance each that runs were computed with.`;
  if (from.sharedLevelId !== null && into.sharedLevelId !== null && from.sharedLevelId !== into.sharedLevelId)
    return `${factorLabel(from.factor)}: “${from.label}” and “${into.label}” stand for two levels across models. Let them stand for one first.`;
  return undefined;
}

export type ModelToHold = Values<(typeof MODEL_VALUES)[number]> & {
  id: string;
  maker: { name: string };
  modelYear: number;
  world: string;
  hiddenAt: Date | null;
  levels: readonly (LevelToHold & { mergedIntoId: string | null })[];
};

/** `sent`: whether a run was ever sent in with a setup of the model that would go. */
export function refusalOfModels(from: ModelToHold, into: ModelToHold, sent: number): string | undefined {
  if (from.id === into.id) return 'A model is not merged with itself.';
  if (from.world !== into.world) return 'The two belong to different worlds.';
  if (into.hiddenAt !== null) return 'The model that would stay is hidden. Show it first.';
  const sheet = sent > 0 ? differing('model', changedColumns(from, into, MODEL_VALUES)) : undefined;
  if (sheet !== undefined) return sheet;
  for (const level of from.levels.filter(({ mergedIntoId }) => mergedIntoId === null)) {
    const same = levelInOther(level, into.levels);
    if (same === undefined) continue;
    if (same.isBaseline !== level.isBaseline)
      return `${factorLabel(level.factor)}: “${same.label}” is as delivered in one of them and a change in the other.`;
    const refusal = ofKind(level, same);
    if (refusal !== undefined) return refusal;
  }
  return undefined;
}

/**
 * The level of another model that a level is: as delivered is as delivered, whatever it is called, and else one of the
 * same key, which may have been merged there.
 */
export function levelInOther<Level extends LevelToHold & { mergedIntoId: string | null }>(
  level: LevelToHold,
  others: readonly Level[],
): Level | undefined {
  const ofFactor = others.filter(({ factor }) => factor === level.factor);
  const delivered = ofFactor.find(({ isBaseline, mergedIntoId }) => isBaseline && mergedIntoId === null);
  if (level.isBaseline && delivered !== undefined) return delivered;
  const named = ofFactor.find(({ key }) => key === level.key);
  return named?.mergedIntoId ? ofFactor.find(({ id }) => id === named.mergedIntoId) : named;
}

function differing(kind: 'car' | 'model', columns: Extract<Change, { kind: 'car' }>['columns']) {
  const rows = changeRows({ kind, columns }, DEFAULT_PREFERENCES);
  if (rows.length === 0) return undefined;
  const words = rows.map(({ label, before, after }) => `${label}: ${before} and ${after}`).join('; ');
  return `They differ in what runs were computed from. ${words}. Where one of them is wrong, have it corrected first: its runs are then computed anew.`;
}
