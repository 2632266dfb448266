import { isValidElement, type ReactNode } from 'react';
import { THIN_SPACE } from '@/lib/units/format';
import { UNITS } from '@/lib/units/unit';

const SYMBOLS = [...new Set(['%', 'h', 'L', ...Object.values(UNITS).map(({ symbol }) => symbol)])]
  .filter((symbol) => symbol !== '')
  .sort((a, b) => b.length - a.length)
  .map((symbol) => symbol.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&'))
  .join('|');
const BETWEEN = new RegExp(`(\\d) (?=(?:${SYMBOLS})(?![\\p{L}\\d]))`, 'gu');
const AFTER_NUMBER = new RegExp(`^ (?=(?:${SYMBOLS})(?![\\p{L}\\d]))`, 'u');

/**
 * Words of a page in which no line ends between a number and its unit: "95 %" in a sentence is written with a plain
 * space, and numbers that the app says itself (`lib/units/show.ts`) have a narrow one that does not break.
 */
export function unbroken(words: string): string;
export function unbroken(words: ReactNode): ReactNode;
export function unbroken(words: ReactNode): ReactNode {
  if (typeof words === 'string') return words.replace(BETWEEN, `$1${THIN_SPACE}`);
  if (!Array.isArray(words)) return words;
  return words.map((part: ReactNode, index) => {
    const whole = isValidElement(part) ? part : unbroken(part);
    const before: ReactNode = words[index - 1];
    return typeof whole === 'string' && /\d$/.test(String(before)) && !isValidElement(before)
      ? whole.replace(AFTER_NUMBER, THIN_SPACE)
      : whole;
  });
}
