import { formatNumber, formatQuantity, THIN_SPACE } from '@/lib/units/format';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import type { Verdict } from './rule';

/** How a quantity's values are written: the number to show, and the text at a count of decimals. */
export interface Scale {
  toShown(canonical: number): number;
  write(canonical: number, decimals: number): string;
}

export function scaleOf(unit: UnitCode | ''): Scale {
  return unit === ''
    ? { toShown: (value) => value, write: (value, decimals) => formatNumber(value, decimals) }
    : {
        toShown: (canonical) => fromCanonical(canonical, unit),
        write: (canonical, decimals) => formatQuantity(canonical, unit, { decimals }),
      };
}

/** Differences of a charge: “2 points” of a percent scale, not “2 %”. */
export const POINTS: Scale = {
  toShown: (share) => 100 * share,
  write: (share, decimals) => `${formatNumber(100 * share, decimals)}${THIN_SPACE}points`,
};

/** As many decimals as the shown number needs, binary dust left out: 0.416666… m/s is 1.5 km/h. */
function decimalsOf(shown: number): number {
  const [mantissa = '', exponent = '0'] = String(Number(shown.toPrecision(9))).split('e');
  const fraction = mantissa.split('.')[1] ?? '';
  return Math.max(0, fraction.length - Number(exponent));
}

/** A limit with all of its digits and no more. */
export function writeLimit(canonical: number, scale: Scale): string {
  return scale.write(canonical, decimalsOf(scale.toShown(canonical)));
}

/**
 * A value with so many decimals that it does not read as equal to a limit that it misses:
 * 5.04 m/s beside a limit of 5 m/s is not written “5.0”.
 */
export function writeBeside(
  canonical: number,
  limits: readonly number[],
  scale: Scale,
  decimals: number,
): string {
  const shown = scale.toShown(canonical);
  const missed = limits
    .map((limit) => scale.toShown(limit))
    .filter((limit) => Math.abs(limit - shown) > 1e-9 * Math.max(Math.abs(limit), Math.abs(shown)));
  let places = decimals;
  while (places < decimals + 6 && missed.some((limit) => readsAs(shown, limit, places))) places += 1;
  return scale.write(canonical, places);
}

const readsAs = (a: number, b: number, places: number): boolean => Number(a.toFixed(places)) === b;

/** How the protocol takes a state that was named, not measured. */
export const VERDICT_SENTENCES: Readonly<Record<Verdict, string>> = {
  pass: 'This is within the protocol.',
  caution: 'The protocol accepts this with a caution.',
  fail: 'The protocol does not accept this.',
};

export function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Whole sentences, one space between, empty ones left out. */
export function join(...sentences: readonly string[]): string {
  return sentences.filter((sentence) => sentence !== '').join(' ');
}
