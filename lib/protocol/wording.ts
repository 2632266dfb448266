import { asJudged, type Said, type SaidNumber, saidTogether } from '@/lib/units/said';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import type { Evaluation, Verdict } from './rule';

/** How a quantity's values are said: the number to show, and what stands in a sentence at a count of decimals. */
export interface Scale {
  toShown(canonical: number): number;
  number(canonical: number, decimals: number): SaidNumber;
}

export function scaleOf(unit: UnitCode | ''): Scale {
  return {
    toShown: (value) => (unit === '' ? value : fromCanonical(value, unit)),
    number: (value, decimals) => ({ value, unit, decimals }),
  };
}

/** Differences of a charge: “2 points” of a percent scale, not “2 %”. */
export const POINTS: Scale = {
  toShown: (share) => 100 * share,
  number: (value, decimals) => ({ value, unit: '%', decimals, symbol: 'points' }),
};

/** As many decimals as the shown number needs, binary dust left out: 0.416666… m/s is 1.5 km/h. */
function decimalsOf(shown: number): number {
  const [mantissa = '', exponent = '0'] = String(Number(shown.toPrecision(9))).split('e');
  const fraction = mantissa.split('.')[1] ?? '';
  return Math.max(0, fraction.length - Number(exponent));
}

/** A limit with all of its digits and no more. */
export function limitNumber(canonical: number, scale: Scale): SaidNumber {
  return scale.number(canonical, decimalsOf(scale.toShown(canonical)));
}

/** The same as text, in the unit in which a version states it. */
export function writeLimit(canonical: number, scale: Scale): string {
  return asJudged([limitNumber(canonical, scale)]);
}

/**
 * A value with so many decimals that it does not read as equal to a limit that it misses:
 * 5.04 m/s beside a limit of 5 m/s is not written “5.0”.
 */
export function numberBeside(
  canonical: number,
  limits: readonly number[],
  scale: Scale,
  decimals: number,
): SaidNumber {
  const shown = scale.toShown(canonical);
  const missed = limits
    .map((limit) => scale.toShown(limit))
    .filter((limit) => Math.abs(limit - shown) > 1e-9 * Math.max(Math.abs(limit), Math.abs(shown)));
  let places = decimals;
  while (places < decimals + 6 && missed.some((limit) => readsAs(shown, limit, places))) places += 1;
  return { ...scale.number(canonical, places), apart: limits };
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

/** What a rule says: its sentence as it was judged, and with its numbers as data where it has any. */
export function spoken(...sentences: readonly (string | Said)[]): Pick<Evaluation, 'sentence' | 'said'> {
  const said = saidTogether(...sentences);
  const sentence = asJudged(said);
  return said.some((part) => typeof part !== 'string') ? { sentence, said } : { sentence };
}

/** Whole sentences, one space between, empty ones left out. */
export function join(...sentences: readonly string[]): string {
  return sentences.filter((sentence) => sentence !== '').join(' ');
}
