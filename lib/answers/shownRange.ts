import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';

/** What the display of one run promised, and what the run used. */
export interface ShownRangeRun {
  /** Range shown at the start. */
  rangeStartM: number;
  /** Charge shown at start and finish, 0..1. */
  chargeStart: number;
  chargeEnd: number;
  distanceM: number;
}

interface Mean {
  value: number;
  u: number;
}

/** Means over runs, in logarithms of metres for a whole charge. */
export interface RangePromise {
  runs: number;
  /** Of the range that the display promised. */
  promised: Mean;
  /** Of the promise over what the run then gave. */
  overGiven: Mean;
}

/** Below three runs a mean says nothing about itself: common practice, no source. */
export const LEAST_RUNS = 3;

/**
 * What displays promised for a whole charge, R/s of the range R shown at the charge s, and how that compares with what
 * the same runs gave, D/(s − s′) for a distance D down to the charge s′. Both take range as proportional to charge, which
 * a display's need not be near empty: common practice, no source. Means of logarithms with their standard uncertainty
 * s/√n (JCGM 100:2008, 4.2); a run that used less than a tenth of its charge is left out, as two whole per cents of a
 * display are then a tenth of the answer. Undefined below three runs.
 */
export function rangePromise(runs: readonly ShownRangeRun[]): RangePromise | undefined {
  const usable = runs.filter(
    ({ rangeStartM, chargeStart, chargeEnd, distanceM }) =>
      rangeStartM > 0 && distanceM > 0 && chargeEnd >= 0 && chargeStart - chargeEnd >= 0.1,
  );
  if (usable.length < LEAST_RUNS) return undefined;
  const promised = usable.map((run) => Math.log(run.rangeStartM / run.chargeStart));
  const given = usable.map((run) => Math.log(run.distanceM / (run.chargeStart - run.chargeEnd)));
  return {
    runs: usable.length,
    promised: meanOf(promised),
    overGiven: meanOf(promised.map((value, at) => value - (given[at] as number))),
  };
}

function meanOf(values: readonly number[]): Mean {
  const n = values.length;
  const value = values.reduce((sum, one) => sum + one, 0) / n;
  const squares = values.reduce((sum, one) => sum + (one - value) ** 2, 0);
  return { value, u: Math.sqrt(squares / (n - 1) / n) };
}

/** How much more was promised than the same runs gave. */
export function promiseSentence({ runs, overGiven }: RangePromise, display: Display): string {
  return `At the start the display promised ${sizeText(overGiven, display)} range than the ${runs} runs then gave.`;
}

/** What was measured between two setups: per cent of the baseline's consumption. */
export interface MeasuredDifference {
  percent: number;
  ends: readonly [number, number] | null;
}

/** The promise of one setup's displays over another's beside the difference that was measured; as range, so more is further. */
export function promisedDifferenceSentence(
  { setup, baseline }: { setup: RangePromise; baseline: RangePromise },
  measured: MeasuredDifference,
  display: Display,
): string {
  const difference = {
    value: setup.promised.value - baseline.promised.value,
    u: Math.hypot(setup.promised.u, baseline.promised.u),
  };
  const range = percentIn('km/kWh', measured.percent);
  const place = measured.ends === null ? 1 : placeForUncertainty(Math.abs(spanOf(measured.ends)) / 4);
  const ends = measured.ends === null ? '' : ` (${endsText(measured.ends, place, display)})`;
  return `The display promised ${sizeText(difference, display)} range (${setup.runs} and ${baseline.runs} runs); the runs gave ${moreOrLess(range, place, display)}${ends}.`;
}

function spanOf(ends: readonly [number, number]): number {
  const [low, high] = percentEndsIn('km/kWh', ends);
  return high - low;
}

function endsText(ends: readonly [number, number], place: number, display: Display): string {
  return percentEndsIn('km/kWh', ends)
    .map((end) => showNumber(end, place, display, { signed: true }))
    .join(' to ');
}

/** "12 ± 3 % more". */
function sizeText({ value, u }: Mean, display: Display): string {
  const percent = 100 * Math.expm1(value);
  const spread = 100 * Math.exp(value) * u;
  const place = spread > 0 ? placeForUncertainty(spread) : 1;
  const size = showNumber(Math.abs(percent), place, display);
  return `${size} ± ${showNumber(spread, place, display)} % ${percent < 0 ? 'less' : 'more'}`;
}

function moreOrLess(percent: number, place: number, display: Display): string {
  return `${showNumber(Math.abs(percent), place, display)} % ${percent < 0 ? 'less' : 'more'}`;
}
