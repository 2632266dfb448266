/**
 * Cross-checks among the readings of one run (method A1).
 *
 * Each check derives one quantity from two or more readings as an interval and asks whether it can agree with the
 * reading that shows the same quantity: consistent when the two intervals intersect, inconsistent when the
 * intersection is empty. Nothing is assumed about the car; only arithmetic and the resolution of the displays is used
 * (interval arithmetic: Moore, Kearfott, Cloud, Introduction to Interval Analysis, SIAM 2009, ch. 2).
 */

import { asJudged, type Said, type SaidNumber, said, saidTogether } from '@/lib/units/said';
import {
  type CheckedQuantity,
  type CheckId,
  type CheckRule,
  chargingEfficiencyRange,
  checkRules,
} from './consistencyRules';
import { type Interval, intersects, type ReadingName, type Readings, readingLabels } from './readings';

export type CheckOutcome = 'consistent' | 'inconsistent' | 'notChecked';

/** `shown` is what was read; `derived` what the other readings make of the same quantity. */
export interface CheckNumbers {
  /** Names the unit both intervals are in. */
  readonly quantity: CheckedQuantity;
  readonly derived: Interval;
  readonly shown: Interval;
}

export interface ConsistencyCheck {
  readonly id: CheckId;
  readonly outcome: CheckOutcome;
  /** Every reading the check needs, whether or not it was there. */
  readonly readings: readonly ReadingName[];
  readonly numbers: CheckNumbers | null;
  /** In the units of the checks, with a decimal point. */
  readonly sentence: string;
  /** The same with its numbers as data; left out where it has none. */
  readonly said?: Said;
}

/**
 * Runs every check the readings allow.
 *
 * @param readings intervals in canonical units (m, Wh, Wh/km, s, m/s, charge as a share)
 * @returns one entry a check, in a fixed order; `notChecked` names what is missing or cannot be used
 */
export function checkConsistency(readings: Readings): ConsistencyCheck[] {
  return checkRules.map((rule) => runCheck(rule, readings));
}

/** Only the checks that failed. */
export function inconsistentChecks(checks: readonly ConsistencyCheck[]): ConsistencyCheck[] {
  return checks.filter((check) => check.outcome === 'inconsistent');
}

function runCheck(rule: CheckRule, readings: Readings): ConsistencyCheck {
  const base = { id: rule.id, readings: rule.needs };
  const missing = rule.needs.filter((name) => readings[name] === undefined);
  if (missing.length > 0) {
    const words = missing.map((name) => readingLabels[name]).join(', ');
    return {
      ...base,
      outcome: 'notChecked',
      numbers: null,
      sentence: `Not checked: no reading of ${words}.`,
    };
  }
  const unusable = rule.needs.filter((name) => !isUsable(readings[name]));
  if (unusable.length > 0) {
    const words = unusable.map((name) => readingLabels[name]).join(', ');
    return {
      ...base,
      outcome: 'notChecked',
      numbers: null,
      sentence: `Not checked: not a usable number: ${words}.`,
    };
  }
  // A display at zero has a rounding interval that dips below it; no quantity here can be negative.
  const read = (name: ReadingName): Interval => floorAtZero(readings[name] as Interval);
  if (rule.divisor !== undefined && !(read(rule.divisor).low > 0)) {
    const sentence = `Not checked: the ${readingLabels[rule.divisor]} is too near zero to divide by.`;
    return { ...base, outcome: 'notChecked', numbers: null, sentence };
  }
  const { derived, shown } = rule.derive(read);
  const agrees = rule.relation === 'equal' ? intersects(derived, shown) : canLieBelow(derived, shown);
  const parts = phrase(rule, derived, shown, agrees);
  return {
    ...base,
    outcome: agrees ? 'consistent' : 'inconsistent',
    numbers: { quantity: rule.quantity, derived, shown },
    said: parts,
    sentence: asJudged(parts),
  };
}

function isUsable(interval: Interval | undefined): boolean {
  return (
    interval !== undefined &&
    Number.isFinite(interval.value) &&
    Number.isFinite(interval.low) &&
    Number.isFinite(interval.high) &&
    interval.low <= interval.high &&
    interval.high >= 0
  );
}

function floorAtZero(a: Interval): Interval {
  return { value: Math.max(a.value, 0), low: Math.max(a.low, 0), high: a.high };
}

function canLieBelow(derived: Interval, shown: Interval): boolean {
  return derived.low <= shown.high || intersects(derived, shown);
}

function phrase(rule: CheckRule, derived: Interval, shown: Interval, agrees: boolean): Said {
  const left = said`${capitalise(rule.derivedWords)} is ${rangeNumber(rule.quantity, derived)}`;
  const right = said`${rule.shownWords} says ${rangeNumber(rule.quantity, shown)}`;
  const verdict = agrees
    ? 'They agree.'
    : rule.relation === 'equal'
      ? 'No rounding explains the difference.'
      : 'The first cannot be the larger of the two.';
  const loss = rule.id === 'chargerEnergy' ? describeLoss(derived, shown) : '';
  return saidTogether(said`${left}; ${right}.`, verdict, loss);
}

/** The charging loss the two energies imply; the derived interval holds charger energy × its middle efficiency. */
function describeLoss(derived: Interval, shown: Interval): string | Said {
  const delivered = derived.value / chargingEfficiencyRange.value;
  if (!(delivered > 0)) return '';
  const loss = 1 - shown.value / delivered;
  const size: SaidNumber = { value: Math.abs(loss), unit: '%', decimals: 0 };
  return loss >= 0
    ? said`The implied charging loss is ${size}.`
    : said`The battery would have gained ${size} more than the charger gave.`;
}

const SAID_IN: Readonly<Record<CheckedQuantity, Pick<SaidNumber, 'unit' | 'decimals'>>> = {
  consumptionWhPerKm: { unit: 'Wh/km', decimals: 1 },
  speedMps: { unit: 'km/h', decimals: 1 },
  energyWh: { unit: 'kWh', decimals: 2 },
  distanceM: { unit: 'km', decimals: 2 },
  durationS: { unit: 'min', decimals: 1 },
  charge: { unit: '%', decimals: 1 },
};

function rangeNumber(quantity: CheckedQuantity, { low, high }: Interval): SaidNumber {
  return { value: low, to: high, ...SAID_IN[quantity] };
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
