import { placeForDigits, placeForInterval, placeForUncertainty } from './digits';
import { fromCanonical, spreadFromCanonical, UNITS, type UnitCode } from './unit';

/** U+202F: keeps number and unit on one line, and groups thousands (SI Brochure 5.4.3 and 5.4.4). */
export const THIN_SPACE = '\u202F';
/** U+2212: a hyphen is not a minus sign. */
export const MINUS = '\u2212';

export interface FormatOptions {
  /** Digits after the decimal mark; a negative count rounds to tens, hundreds … */
  readonly decimals?: number;
  /** Significant digits; ignored when `decimals` is given. Default 4. */
  readonly significantDigits?: number;
  readonly decimalMark?: '.' | ',';
  /** Write a plus sign before a value above zero. */
  readonly signed?: boolean;
  /** Leave the unit's symbol away. */
  readonly bare?: boolean;
}

/** A bare number with a fixed count of decimals, thin-spaced groups and a true minus sign. */
export function formatNumber(value: number, decimals: number, options: FormatOptions = {}): string {
  if (!Number.isFinite(value)) return '–';
  const places = Math.max(-20, Math.min(20, decimals));
  const fixed = places >= 0 ? Math.abs(value).toFixed(places) : roundToTens(Math.abs(value), -places);
  const [integer = '0', fraction] = fixed.split('.');
  // five digits and more are grouped; four are not (SI Brochure 5.4.4)
  const grouped = integer.length > 4 ? integer.replace(/\B(?=(\d{3})+$)/g, THIN_SPACE) : integer;
  const isZero = !/[1-9]/.test(fixed);
  const sign = isZero ? '' : value < 0 ? MINUS : options.signed ? '+' : '';
  return `${sign}${grouped}${fraction === undefined ? '' : `${options.decimalMark ?? '.'}${fraction}`}`;
}

/** A canonical value shown in `unit`, with its symbol. */
export function formatQuantity(canonical: number, unit: UnitCode, options: FormatOptions = {}): string {
  const shown = fromCanonical(canonical, unit);
  const decimals = options.decimals ?? Math.max(0, placeForDigits(shown, options.significantDigits ?? 4));
  return withSymbol(formatNumber(shown, decimals, options), unit, options);
}

/** `value ± u unit`, both to the place of the uncertainty. */
export function formatWithUncertainty(
  canonical: number,
  uncertainty: number,
  unit: UnitCode,
  options: FormatOptions = {},
): string {
  const spread = spreadFromCanonical(uncertainty, unit, canonical);
  const decimals = options.decimals ?? placeForUncertainty(spread);
  const value = formatNumber(fromCanonical(canonical, unit), decimals, options);
  const plusMinus = `${value}${THIN_SPACE}±${THIN_SPACE}${formatNumber(spread, decimals, { ...options, signed: false })}`;
  return withSymbol(plusMinus, unit, options);
}

/** `low to high unit`, ends in ascending order also in a reciprocal unit, to the place of the interval. */
export function formatInterval(
  lowCanonical: number,
  highCanonical: number,
  unit: UnitCode,
  options: FormatOptions = {},
): string {
  const a = fromCanonical(lowCanonical, unit);
  const b = fromCanonical(highCanonical, unit);
  const decimals = options.decimals ?? placeForInterval(a, b);
  const low = formatNumber(Math.min(a, b), decimals, options);
  const high = formatNumber(Math.max(a, b), decimals, options);
  return withSymbol(`${low} to ${high}`, unit, options);
}

/** `h:mm` or, with seconds, `h:mm:ss`; rounded to the last place shown. */
export function formatDuration(seconds: number, withSeconds = false): string {
  if (!Number.isFinite(seconds)) return '–';
  const step = withSeconds ? 1 : 60;
  const whole = Math.round(Math.abs(seconds) / step) * step;
  const two = (n: number) => String(n).padStart(2, '0');
  const clock = `${Math.floor(whole / 3600)}:${two(Math.floor((whole % 3600) / 60))}`;
  return `${seconds < 0 && whole > 0 ? MINUS : ''}${clock}${withSeconds ? `:${two(whole % 60)}` : ''}`;
}

function roundToTens(magnitude: number, zeros: number): string {
  const step = 10 ** zeros;
  return (Math.round(magnitude / step) * step).toFixed(0);
}

function withSymbol(text: string, unit: UnitCode, options: FormatOptions): string {
  if (options.bare) return text;
  // a plane angle's degree sign follows without a space (SI Brochure 5.4.3)
  return unit === 'deg' ? `${text}°` : `${text}${THIN_SPACE}${UNITS[unit].symbol}`;
}
