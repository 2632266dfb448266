/**
 * How many digits a number may have. A place is a count of decimals: 1 is tenths, 0 is ones, −1 is tens.
 *
 * The rule for a number that has an uncertainty: GUM (JCGM 100:2008), 7.2.6, lets an uncertainty have at most two
 * significant digits and rounds the value to the same place. Of the two we keep the second only where the first is 1
 * or 2 (DIN 1333:1992, from memory), since there one digit would round by up to a half. So rounding to the place moves
 * a number by at most a sixth of its standard uncertainty, which is less than a tenth of the half-width of its 95 %
 * interval.
 */
const STANDARD_UNCERTAINTIES_IN_95 = 4;

/** The place of a value with this standard uncertainty, in the same unit; above zero and finite. */
export function placeForUncertainty(uncertainty: number): number {
  if (!(uncertainty > 0) || !Number.isFinite(uncertainty)) {
    throw new RangeError('an uncertainty must be finite and above zero');
  }
  // rounded to two digits first, so that 0.0996 counts as 0.10
  const [mantissa = '', exponent] = uncertainty.toExponential(1).split('e');
  const digits = mantissa.startsWith('1') || mantissa.startsWith('2') ? 2 : 1;
  return digits - 1 - Number(exponent);
}

/**
 * The place of a value with this 95 % interval, and of the interval's ends: a quarter of its width stands for the
 * standard uncertainty (a coverage factor of 2: GUM, 6.3.3). An interval without width leaves four digits.
 */
export function placeForInterval(low: number, high: number): number {
  const width = Math.abs(high - low);
  if (!(width > 0) || !Number.isFinite(width))
    return placeForDigits(Math.max(Math.abs(low), Math.abs(high)), 4);
  return placeForUncertainty(width / STANDARD_UNCERTAINTIES_IN_95);
}

/** The place at which a number has so many significant digits, counted after rounding; that of nothing is 0. */
export function placeForDigits(value: number, digits: number): number {
  const size = Math.abs(value);
  if (!(size > 0) || !Number.isFinite(size)) return 0;
  return digits - 1 - Number(size.toExponential(digits - 1).split('e')[1]);
}
