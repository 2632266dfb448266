/**
 * Cross-checks among the readings of one run (method A1).
 *
 * Each check derives one quantity from two or more readings as an interval and asks whether it can agree with the
 * reading that shows the same quantity: consistent when the two intervals intersect, inconsistent when the
 * intersection is empty. Nothing is assumed about the car; only arithmetic and the resolution of the displays is used
 * (interval arithmetic: Moore, Kearfott, Cloud, Introduction to Interval Analysis, SIAM 2009, ch. 2).
 */
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
  readonly sentence: string;
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
  return {
    ...base,
    outcome: agrees ? 'consistent' : 'inconsistent',
    numbers: { quantity: rule.quantity, derived, shown },
    sentence: phrase(rule, derived, shown, agrees),
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

function phrase(rule: CheckRule, derived: Interval, shown: Interval, agrees: boolean): string {
  const left = `${rule.derivedWords} is ${formatRange(rule.quantity, derived)}`;
  const right = `${rule.shownWords} says ${formatRange(rule.quantity, shown)}`;
  const verdict = agrees
    ? 'They agree.'
    : rule.relation === 'equal'
      ? 'No rounding explains the difference.'
      : 'The first cannot be the larger of the two.';
  const loss = rule.id === 'chargerEnergy' ? ` ${describeLoss(derived, shown)}` : '';
  return `${capitalise(left)}; ${right}. ${verdict}${loss}`;
}

/** The charging loss the two energies imply; the derived interval holds charger energy × its middle efficiency. */
function describeLoss(derived: Interval, shown: Interval): string {
  const delivered = derived.value / chargingEfficiencyRange.value;
  if (!(delivered > 0)) return '';
  const loss = 100 * (1 - shown.value / delivered);
  return loss >= 0
    ? `The implied charging loss is ${loss.toFixed(0)} %.`
    : `The battery would have gained ${(-loss).toFixed(0)} % more than the charger gave.`;
}

const display = {
  consumptionWhPerKm: { factor: 1, digits: 1, unit: 'Wh/km' },
  speedMps: { factor: 3.6, digits: 1, unit: 'km/h' },
  energyWh: { factor: 1e-3, digits: 2, unit: 'kWh' },
  distanceM: { factor: 1e-3, digits: 2, unit: 'km' },
  durationS: { factor: 1 / 60, digits: 1, unit: 'min' },
  charge: { factor: 100, digits: 1, unit: '%' },
} as const;

function formatRange(quantity: CheckedQuantity, interval: Interval): string {
  const { factor, digits, unit } = display[quantity];
  const low = (interval.low * factor).toFixed(digits);
  const high = (interval.high * factor).toFixed(digits);
  return low === high ? `${low} ${unit}` : `${low} to ${high} ${unit}`;
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
