import type { Outcome, Verdict } from './rule';

/**
 * Binary rounding of ends that meet exactly in decimal (18 km/h against 5 m/s; 111.5 − 110 km/h against 1.5 km/h).
 * One part in 10⁹ is far below any display's digit.
 */
const SLACK = 1e-9;

const slackOf = (a: number, b: number): number => SLACK * Math.max(Math.abs(a), Math.abs(b));

/** False for a value that is not a number: what cannot be compared does not pass. */
export function isAtMost(value: number, upper: number): boolean {
  return value <= upper + slackOf(value, upper);
}

export function isAtLeast(value: number, lower: number): boolean {
  return value >= lower - slackOf(value, lower);
}

export interface Band {
  pass: number;
  caution: number;
}

export function gradeAtMost(value: number, band: Band): Verdict {
  if (isAtMost(value, band.pass)) return 'pass';
  return isAtMost(value, band.caution) ? 'caution' : 'fail';
}

export function gradeAtLeast(value: number, band: Band): Verdict {
  if (isAtLeast(value, band.pass)) return 'pass';
  return isAtLeast(value, band.caution) ? 'caution' : 'fail';
}

export interface RangeBand {
  cautionFrom: number;
  passFrom: number;
  passTo: number;
  cautionTo: number;
}

export function gradeWithin(value: number, band: RangeBand): Verdict {
  return worst([
    gradeAtLeast(value, { pass: band.passFrom, caution: band.cautionFrom }),
    gradeAtMost(value, { pass: band.passTo, caution: band.cautionTo }),
  ]);
}

const SEVERITY = { notChecked: 0, pass: 1, caution: 2, fail: 3 } as const;

/** The gravest of the outcomes; a rule that judged something outweighs one that could not. */
export function worst<T extends Outcome>(outcomes: readonly [T, ...T[]]): T {
  return outcomes.reduce((gravest, outcome) => (SEVERITY[outcome] > SEVERITY[gravest] ? outcome : gravest));
}
