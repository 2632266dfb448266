import { wallClockWords } from '@/lib/run/localDate';
import { offsetLabel } from '@/lib/run/utcOffset';
import type { Display } from '@/lib/units/display';
import { showNumber, showShare } from '@/lib/units/show';

/** Below this a number that decided (a p-value, say) is as good as nothing, and its digits say nothing. */
const SMALLEST_SHOWN = 1e-6;

/** Up to four significant digits, without zeros that say nothing: a limit of 1.5 is not written 1.500. */
export function plainNumber(value: number, display: Display): string {
  if (value > 0 && value < SMALLEST_SHOWN) return `below ${showNumber(SMALLEST_SHOWN, 6, display)}`;
  const rounded = Number(value.toPrecision(4));
  const [mantissa = '', exponent = '0'] = String(rounded).split('e');
  const fraction = mantissa.split('.')[1]?.length ?? 0;
  return showNumber(rounded, Math.max(0, fraction - Number(exponent)), display);
}

/** A share that is stated or small beside what it is a share of: to the decimals given. */
export function percent(share: number, decimals: number, display: Display, signed = false): string {
  return showShare(share, display, { decimals, signed });
}

/** "2025-09-10 18:24 UTC" */
export function utcMinute(iso: string): string {
  return `${iso.slice(0, 16).replace('T', ' ')} UTC`;
}

/** The clock at the loop: "2025-09-10 19:24, UTC+01:00". */
export function localMinute(iso: string, utcOffsetMin: number): string {
  return `${wallClockWords(Date.parse(iso), utcOffsetMin)}, ${offsetLabel(utcOffsetMin)}`;
}
