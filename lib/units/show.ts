import { placeForDigits, placeForInterval, placeForUncertainty } from './digits';
import { type Display, type Kind, unitFor } from './display';
import { formatNumber, THIN_SPACE } from './format';
import { fromCanonical, spreadFromCanonical, UNITS, type UnitCode } from './unit';

/**
 * The one way in which the pages, figures and files say a number: in the reader's unit, with the reader's decimal mark
 * and to a place with a reason. The reasons, by what is said:
 * an estimate or a measured value with an uncertainty: the place of the uncertainty (digits.ts);
 * a result without one: three significant digits; a reading: as its display showed it (showDisplayed);
 * a count: whole; a stated value (a limit, a reference condition): the decimals it is stated with;
 * a step or a line of a budget: one place finer than the whole, so that the parts can be added up (budgetPlace);
 * a chance: two significant digits, never 0 or 1 (showChance); a factor or a test's statistic: see there.
 */
export interface ShowOptions {
  /** A place that is given: that of a number beside it, or that of a stated value. */
  readonly decimals?: number;
  /** Write a plus sign before a value above zero. */
  readonly signed?: boolean;
  /** Leave the unit's symbol away, where it stands over the number. */
  readonly bare?: boolean;
}

/** A bare number with so many decimals. */
export function showNumber(
  value: number,
  decimals: number,
  display: Display,
  options: Pick<ShowOptions, 'signed'> = {},
): string {
  return formatNumber(value, decimals, { ...options, decimalMark: markOf(display) });
}

export function markOf(display: Display): '.' | ',' {
  return display.mark === 'comma' ? ',' : '.';
}

const PLAIN_DIGITS = 3;

/** A canonical value in the reader's unit; without a given place to three significant digits. */
export function showQuantity(
  canonical: number,
  kind: Kind | UnitCode,
  display: Display,
  options: ShowOptions = {},
): string {
  const unit = unitFor(kind, display);
  const shown = fromCanonical(canonical, unit);
  const decimals = options.decimals ?? Math.max(0, placeForDigits(shown, PLAIN_DIGITS));
  return withSymbol(showNumber(shown, decimals, display, options), unit, options);
}

/** An estimate as text: value and ends to one place, which is that of the interval. */
export interface ShownEstimate {
  readonly value: string;
  readonly low: string;
  readonly high: string;
  /** "17.3 to 18.6", the smaller number first. */
  readonly interval: string;
  /** As printed after the number. */
  readonly symbol: string;
  readonly decimals: number;
}

/** A canonical value with the ends of its 95 % interval. In a reciprocal unit the ends change places. */
export function showEstimate(
  { value, low, high }: { value: number; low: number; high: number },
  kind: Kind | UnitCode,
  display: Display,
  options: Pick<ShowOptions, 'signed'> = {},
): ShownEstimate {
  const unit = unitFor(kind, display);
  const ends = [fromCanonical(low, unit), fromCanonical(high, unit)].sort((a, b) => a - b);
  return estimateText(fromCanonical(value, unit), ends, UNITS[unit].symbol, display, options);
}

/** A difference or share in per cent, given in per cent, with the ends of its interval. */
export function showPercentEstimate(
  { percent, low, high }: { percent: number; low: number; high: number },
  display: Display,
  options: Pick<ShowOptions, 'signed'> = { signed: true },
): ShownEstimate {
  return estimateText(percent, [low, high], '%', display, options);
}

function estimateText(
  value: number,
  ends: readonly number[],
  symbol: string,
  display: Display,
  options: Pick<ShowOptions, 'signed'>,
): ShownEstimate {
  const [first = Number.NaN, second = Number.NaN] = ends;
  const decimals = placeForInterval(first, second);
  const text = (number: number) => showNumber(number, decimals, display, options);
  const [low, high] = [text(first), text(second)];
  return { value: text(value), low, high, interval: `${low} to ${high}`, symbol, decimals };
}

/** The place of a canonical value with this standard uncertainty, in the reader's unit. */
export function placeOf(
  canonical: number,
  uncertainty: number,
  kind: Kind | UnitCode,
  display: Display,
): number {
  const unit = unitFor(kind, display);
  const spread = spreadFromCanonical(uncertainty, unit, canonical);
  const shown = fromCanonical(canonical, unit);
  return spread > 0 ? placeForUncertainty(spread) : Math.max(0, placeForDigits(shown, PLAIN_DIGITS));
}

/** The place of the parts of a sum whose whole has this place: one finer, so that the parts can be added up. */
export function budgetPlace(wholePlace: number): number {
  return wholePlace + 1;
}

/** `value ± u unit`, both to the place of the standard uncertainty. */
export function showWithUncertainty(
  canonical: number,
  uncertainty: number,
  kind: Kind | UnitCode,
  display: Display,
  options: ShowOptions = {},
): string {
  const unit = unitFor(kind, display);
  const decimals = options.decimals ?? placeOf(canonical, uncertainty, unit, display);
  const value = showNumber(fromCanonical(canonical, unit), decimals, display, options);
  const spread = showNumber(spreadFromCanonical(uncertainty, unit, canonical), decimals, display);
  return withSymbol(`${value}${THIN_SPACE}±${THIN_SPACE}${spread}`, unit, options);
}

/** `low to high unit`, ends in ascending order also in a reciprocal unit. */
export function showInterval(
  low: number,
  high: number,
  kind: Kind | UnitCode,
  display: Display,
  options: ShowOptions = {},
): string {
  const unit = unitFor(kind, display);
  const [a = 0, b = 0] = [fromCanonical(low, unit), fromCanonical(high, unit)].sort((x, y) => x - y);
  const decimals = options.decimals ?? placeForInterval(a, b);
  const text = (value: number) => showNumber(value, decimals, display, options);
  return withSymbol(`${text(a)} to ${text(b)}`, unit, options);
}

/** A share from 0 to 1 in per cent; without a given place to two significant digits, at most to tenths. */
export function showShare(share: number, display: Display, options: ShowOptions = {}): string {
  const decimals = options.decimals ?? Math.min(1, Math.max(0, placeForDigits(100 * share, 2)));
  const text = showNumber(100 * share, decimals, display, options);
  return options.bare ? text : `${text}${THIN_SPACE}%`;
}

const SMALLEST_CHANCE = 0.001;

/**
 * A chance or p-value: two significant digits (the second is all that a simulation of some ten thousand draws
 * settles; common practice, no source), never 0 or 1, which no finite evidence earns.
 */
export function showChance(chance: number, display: Display): string {
  if (chance < SMALLEST_CHANCE) return `<${THIN_SPACE}${showNumber(SMALLEST_CHANCE, 3, display)}`;
  if (chance > 1 - SMALLEST_CHANCE) return `>${THIN_SPACE}${showNumber(1 - SMALLEST_CHANCE, 3, display)}`;
  // near 1 the digits that count are those of what is missing
  return showNumber(chance, placeForDigits(Math.min(chance, 1 - chance), 2), display);
}

/** A factor near 1 (a coverage factor, a Birge ratio): two decimals, as GUM table G.2 prints coverage factors. */
export function showFactor(factor: number, display: Display): string {
  return showNumber(factor, 2, display);
}

/** A number that a display showed, digit for digit: only the decimal mark and the minus sign are the reader's. */
export function showDisplayed(shown: number, decimals: number, display: Display): string {
  return showNumber(shown, decimals, display);
}

/** Significant digits of a number whose size is not known before, never in powers of ten; what is nothing is 0. */
export function showSignificant(value: number, digits: number, display: Display, mostDecimals = 12): string {
  if (!(Math.abs(value) > 10 ** -mostDecimals)) return '0';
  return showNumber(value, Math.min(mostDecimals, Math.max(0, placeForDigits(value, digits))), display);
}

/** Below this a number that decided (a p-value, say) is as good as nothing, and its digits say nothing. */
const SMALLEST_SHOWN = 1e-6;

/** Up to four significant digits, without zeros that say nothing: a limit of 1.5 is not written 1.500. */
export function showPlain(value: number, display: Display): string {
  if (value > 0 && value < SMALLEST_SHOWN) return `below ${showNumber(SMALLEST_SHOWN, 6, display)}`;
  const rounded = Number(value.toPrecision(4));
  const [mantissa = '', exponent = '0'] = String(rounded).split('e');
  const fraction = mantissa.split('.')[1]?.length ?? 0;
  return showNumber(rounded, Math.max(0, fraction - Number(exponent)), display);
}

/** What somebody stated or asked for, in the reader's unit: 0 °C is not written 0.00 °C, nor 32 °F 32.0 °F. */
export function showStated(canonical: number, kind: Kind | UnitCode, display: Display): string {
  const unit = unitFor(kind, display);
  return withSymbol(showPlain(fromCanonical(canonical, unit), display), unit, {});
}

// not after a digit or a mark (sections such as 7.2.6), not in the name of a version
const DECIMAL_IN_TEXT = /(?<![\d.]|(?:protocol|method|version|section) )(\d+)\.(\d+)(?!\.?\d)/gi;

/**
 * A finished sentence of the record (a finding, a reason) with the reader's decimal mark; its digits and units stay as
 * they were judged.
 */
export function withReadersMark(sentence: string, display: Display): string {
  return display.mark === 'comma' ? sentence.replace(DECIMAL_IN_TEXT, '$1,$2') : sentence;
}

function withSymbol(text: string, unit: UnitCode, options: ShowOptions): string {
  if (options.bare) return text;
  // a plane angle's degree sign follows without a space (SI Brochure 5.4.3)
  return unit === 'deg' ? `${text}°` : `${text}${THIN_SPACE}${UNITS[unit].symbol}`;
}
