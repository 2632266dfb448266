import { dimensionOf, isReciprocal, toCanonical, type UnitCode } from './unit';

/**
 * A number as a display showed it: the canonical value and the interval of true values the display would round to it.
 * The interval is half a last digit to each side (JCGM 100:2008, F.2.2.1); it is not symmetric in a reciprocal unit.
 */
export interface ParsedQuantity {
  readonly ok: true;
  /** Canonical units throughout, unless named `shown…`. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly halfWidthLow: number;
  readonly halfWidthHigh: number;
  /** Width of the interval: one step of the last digit. */
  readonly resolution: number;
  /** Of a rectangular distribution over the interval: width/√12 (JCGM 100:2008, 4.3.7). */
  readonly standardUncertainty: number;
  readonly shownValue: number;
  readonly shownResolution: number;
  readonly decimals: number;
}

export type ParseRefusal =
  | 'empty'
  | 'notANumber'
  | 'twoDecimalMarks'
  | 'tooManyDigits'
  | 'negative'
  | 'notAboveZero'
  | 'notATime';

export interface RefusedQuantity {
  readonly ok: false;
  readonly reason: ParseRefusal;
  readonly message: string;
}

export interface ParseOptions {
  /** Default: only temperatures may be below zero. */
  readonly allowNegative?: boolean;
  /** The display counts in steps of this many last digits (for example 5 for 0.0, 0.5, 1.0). Default 1. */
  readonly lastDigitStep?: number;
  /** Odometers and clocks cut off instead of rounding: the true value lies at or above the shown one. */
  readonly rounding?: 'nearest' | 'down';
}

const MAX_DIGITS = 15;
// A grouping space (plain, no-break, thin, narrow no-break) stands only between a digit and a full group of three.
const GROUP = '[ \\u00A0\\u2009\\u202F]';
const INTEGER = `(?:\\d{1,3}(?:${GROUP}\\d{3})+|\\d+)`;
const DECIMAL = new RegExp(`^([+\\-\\u2212]?)(${INTEGER})?(?:[.,](\\d*))?$`);
const CLOCK = /^(\d{1,3}):([0-5]\d)(?::([0-5]\d))?$/;

const MESSAGES: Readonly<Record<ParseRefusal, string>> = {
  empty: 'Nothing was entered.',
  notANumber: 'Enter the digits as the display shows them, for example 24.6.',
  twoDecimalMarks: 'Use one decimal mark; group thousands with a space or not at all.',
  tooManyDigits: `More than ${MAX_DIGITS} digits cannot come from a display.`,
  negative: 'This quantity cannot be below zero.',
  notAboveZero: 'A distance per energy must be above zero by more than half its last digit.',
  notATime: 'Enter a time as h:mm or h:mm:ss with minutes and seconds below 60.',
};

/** Parses a displayed number in `unit`; a user's slip comes back as data, never as an exception. */
export function parseQuantity(
  text: string,
  unit: UnitCode,
  options: ParseOptions = {},
): ParsedQuantity | RefusedQuantity {
  const trimmed = text.trim();
  if (trimmed === '') return refuse('empty');
  if (trimmed.includes(':')) {
    return dimensionOf(unit) === 'duration' ? parseClock(trimmed, options) : refuse('notANumber');
  }
  if (/^[^.,]*[.,].*[.,]/.test(trimmed) && /\d/.test(trimmed)) return refuse('twoDecimalMarks');
  const match = DECIMAL.exec(trimmed);
  if (match === null) return refuse('notANumber');
  const integer = (match[2] ?? '').replace(/\D/g, '');
  const fraction = match[3] ?? '';
  if (integer === '' && fraction === '') return refuse('notANumber');
  if (integer.replace(/^0+/, '').length + fraction.length > MAX_DIGITS) return refuse('tooManyDigits');

  const magnitude = Number(`${integer || '0'}.${fraction || '0'}`);
  const shown = match[1] === '-' || match[1] === '\u2212' ? 0 - magnitude : magnitude;
  const shownResolution = Number(`1e-${fraction.length}`) * (options.lastDigitStep ?? 1);
  return withInterval(shown, shownResolution, fraction.length, unit, options);
}

function parseClock(text: string, options: ParseOptions): ParsedQuantity | RefusedQuantity {
  const match = CLOCK.exec(text);
  if (match === null) return refuse('notATime');
  const seconds = Number(match[1]) * 3600 + Number(match[2]) * 60 + Number(match[3] ?? 0);
  return withInterval(
    seconds,
    (match[3] === undefined ? 60 : 1) * (options.lastDigitStep ?? 1),
    0,
    's',
    options,
  );
}

function withInterval(
  shown: number,
  shownResolution: number,
  decimals: number,
  unit: UnitCode,
  options: ParseOptions,
): ParsedQuantity | RefusedQuantity {
  const mayBeNegative = options.allowNegative ?? dimensionOf(unit) === 'temperature';
  if (shown < 0 && !mayBeNegative) return refuse('negative');
  const down = options.rounding === 'down';
  let shownLow = down ? shown : shown - shownResolution / 2;
  const shownHigh = down ? shown + shownResolution : shown + shownResolution / 2;
  if (isReciprocal(unit)) {
    if (!(shown > 0 && shownLow > 0)) return refuse('notAboveZero');
  } else if (shownLow < 0 && !mayBeNegative) {
    shownLow = 0;
  }
  const value = toCanonical(shown, unit);
  const ends = [toCanonical(shownLow, unit), toCanonical(shownHigh, unit)] as const;
  const low = Math.min(ends[0], ends[1]);
  const high = Math.max(ends[0], ends[1]);
  return {
    ok: true,
    value,
    low,
    high,
    halfWidthLow: value - low,
    halfWidthHigh: high - value,
    resolution: high - low,
    standardUncertainty: (high - low) / Math.sqrt(12),
    shownValue: shown,
    shownResolution,
    decimals,
  };
}

function refuse(reason: ParseRefusal): RefusedQuantity {
  return { ok: false, reason, message: MESSAGES[reason] };
}
