import { isReciprocal, type UnitCode } from './unit';

/**
 * Which way is better in a unit of consumption, and the words that go with it. Energy per distance is better lower;
 * distance per energy is the same thing said the other way round: the order of setups stays, and words, signs and the
 * ends of intervals turn.
 */
export interface Sense {
  readonly isHigherBetter: boolean;
  /** What the unit measures, within a sentence. */
  readonly quantity: string;
  readonly better: string;
  /** Which side of zero is the better one, where differences are drawn. */
  readonly sideOfZero: string;
  /** Of one among several. */
  readonly best: string;
  readonly bestFirst: string;
  /** "A uses 1.3 % less than B", "… A using 1.3 % less …". */
  readonly verb: string;
  readonly participle: string;
  readonly infinitive: string;
  /** After a size: of what draws less energy, and of what draws more. */
  readonly less: string;
  readonly more: string;
  /** Without a size, of the one that draws less: "lower in 4 of 5 sessions". */
  readonly lower: string;
  /** The same of the one that draws more. */
  readonly higher: string;
}

const ENERGY_PER_DISTANCE: Sense = {
  isHigherBetter: false,
  quantity: 'consumption',
  better: 'Lower is better',
  sideOfZero: 'Left of zero, the change saves energy',
  best: 'lowest consumption',
  bestFirst: 'lowest consumption first',
  verb: 'uses',
  participle: 'using',
  infinitive: 'use',
  less: 'less',
  more: 'more',
  lower: 'lower',
  higher: 'higher',
};

const DISTANCE_PER_ENERGY: Sense = {
  isHigherBetter: true,
  quantity: 'distance per kWh',
  better: 'Higher is better',
  sideOfZero: 'Right of zero, the car goes further per kWh',
  best: 'furthest per kWh',
  bestFirst: 'furthest per kWh first',
  verb: 'goes',
  participle: 'going',
  infinitive: 'go',
  less: 'further per kWh',
  more: 'less far per kWh',
  lower: 'further per kWh',
  higher: 'less far per kWh',
};

export function senseOf(unit: UnitCode): Sense {
  return isReciprocal(unit) ? DISTANCE_PER_ENERGY : ENERGY_PER_DISTANCE;
}

/**
 * A relative difference of consumption, in per cent, as the unit's own quantity has it. Differences are ratios
 * throughout (the method compares logarithms): with c = 1 + p/100 the ratio of the consumptions, that of the distances
 * per energy is 1/c, exactly. Domain: p above −100.
 */
export function percentIn(unit: UnitCode, consumptionPercent: number): number {
  if (!isReciprocal(unit)) return consumptionPercent;
  if (!(consumptionPercent > -100)) throw new RangeError('a consumption cannot be lower by all of it');
  return consumptionPercent === 0 ? 0 : (-100 * consumptionPercent) / (100 + consumptionPercent);
}

/** The same of ends: what was the low one becomes the high one. */
export function percentEndsIn(unit: UnitCode, [low, high]: readonly [number, number]): [number, number] {
  return isReciprocal(unit) ? [percentIn(unit, high), percentIn(unit, low)] : [low, high];
}

const ADDITIVE: Partial<Record<UnitCode, UnitCode>> = { 'km/kWh': 'kWh/100km', 'mi/kWh': 'kWh/100mi' };

/** Steps and budgets add up only as energy per distance: the unit in which to show them beside the reader's own. */
export function additiveUnit(unit: UnitCode): UnitCode {
  return ADDITIVE[unit] ?? unit;
}
