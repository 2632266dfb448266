import { wallClockWords } from '@/lib/run/localDate';
import { offsetLabel } from '@/lib/run/utcOffset';
import { placeForDigits, placeForUncertainty } from '@/lib/units/digits';
import { formatNumber, THIN_SPACE } from '@/lib/units/format';
import { spreadFromCanonical, type UnitCode } from '@/lib/units/unit';

/** Decimals that show two digits of a standard uncertainty, held to a readable range. */
export function decimalsFor(uncertainty: number, least = 0, most = 3): number {
  if (!(uncertainty > 0)) return least;
  return Math.min(most, Math.max(least, placeForUncertainty(uncertainty)));
}

/** Decimals for a consumption with its standard uncertainty, in the reader's unit. */
export function consumptionDecimals(whPerKm: number, uWhPerKm: number, unit: UnitCode): number {
  return decimalsFor(spreadFromCanonical(uWhPerKm, unit, whPerKm));
}

/** A number to so many significant digits, never in exponents; what is nothing at all is 0. */
export function significant(value: number, digits = 3): string {
  const size = Math.abs(value);
  if (!(size > 1e-9)) return '0';
  return formatNumber(value, Math.min(12, Math.max(0, placeForDigits(size, digits))));
}

/** Below this a number that decided (a p-value, say) is as good as nothing, and its digits say nothing. */
const SMALLEST_SHOWN = 1e-6;

/** Up to four significant digits, without zeros that say nothing: a limit of 1.5 is not written 1.500. */
export function plainNumber(value: number): string {
  if (value > 0 && value < SMALLEST_SHOWN) return `below ${SMALLEST_SHOWN}`;
  const rounded = Number(value.toPrecision(4));
  const [mantissa = '', exponent = '0'] = String(rounded).split('e');
  const fraction = mantissa.split('.')[1]?.length ?? 0;
  return formatNumber(rounded, Math.max(0, fraction - Number(exponent)));
}

export function percent(share: number, decimals: number, signed = false): string {
  return `${formatNumber(100 * share, decimals, { signed })}${THIN_SPACE}%`;
}

/** "2025-09-10 18:24 UTC" */
export function utcMinute(iso: string): string {
  return `${iso.slice(0, 16).replace('T', ' ')} UTC`;
}

/** The clock at the loop: "2025-09-10 19:24, UTC+01:00". */
export function localMinute(iso: string, utcOffsetMin: number): string {
  return `${wallClockWords(Date.parse(iso), utcOffsetMin)}, ${offsetLabel(utcOffsetMin)}`;
}
