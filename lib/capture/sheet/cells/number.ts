/** Numbers as notes hold them: with a decimal comma or point, thousands grouped, and the unit behind. */
import { unitSpelled } from '@/lib/units/spellings';
import type { UnitCode } from '@/lib/units/unit';

export type DecimalMark = 'point' | 'comma';

const MARKS: Readonly<Record<DecimalMark, { decimal: string; group: string }>> = {
  point: { decimal: '.', group: ',' },
  comma: { decimal: ',', group: '.' },
};

/** Digits with marks between them, and what follows. */
const NUMBER = /^([+\-\u2212]?)(\d[\d.,'\u2019 \u00a0\u2009\u202f]*|[.,]\d+)(.*)$/su;
/** Thousands parted by either mark, the apostrophe of Swiss writing, or a space. */
const isGrouped = (digits: string, group: string): boolean =>
  digits.includes(group) &&
  digits.split(group).every((part, at) => (at === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(part));

/** The number in front of a cell's text and what is written behind it; none where no number is in front. */
export function numberInFront(text: string): { digits: string; rest: string } | undefined {
  const match = NUMBER.exec(text.trim());
  if (match === null) return undefined;
  const digits = (match[2] ?? '').trimEnd();
  return { digits: `${match[1]}${digits}`, rest: (match[3] ?? '').trim() };
}

/**
 * Which mark the digits must be read with: both marks, a mark twice, or another count than three digits behind one
 * tell. Undefined where nothing does ("24") or either could ("1,013").
 */
export function markTold(digits: string): DecimalMark | undefined {
  const marks = digits.replace(/[^.,]/g, '');
  const last = marks.at(-1);
  if (last === undefined) return undefined;
  const read: DecimalMark = last === ',' ? 'comma' : 'point';
  if (marks.length === 1) {
    const [whole = '', behind = ''] = digits.split(last);
    const couldGroup = behind.length === 3 && /^[+\-\u2212]?[1-9]\d{0,2}$/.test(whole);
    return couldGroup ? undefined : read;
  }
  // 1,013.2 and 1.013,2 tell by the last mark; 1,234,567 groups by the only one.
  if (new Set(marks).size === 2) return read;
  return read === 'comma' ? 'point' : 'comma';
}

/** Whether the digits could be read either way: "1,013" and "1.013". */
export function isUntold(digits: string): boolean {
  return /[.,]/.test(digits) && markTold(digits) === undefined;
}

/**
 * The digits with a point, ungrouped, every decimal kept: what a display showed says how finely it counts. Left as
 * written where they are no number in this writing, for the form's own parser to refuse.
 */
export function plainDigits(digits: string, mark: DecimalMark): string {
  const sign = /^[+\-\u2212]/.exec(digits)?.[0] ?? '';
  const { decimal, group } = MARKS[markTold(digits) ?? mark];
  const [whole = '', fraction, ...more] = digits
    .slice(sign.length)
    .replace(/['\u2019 \u00a0\u2009\u202f](?=\d{3}(?!\d))/g, '')
    .split(decimal);
  if (more.length > 0) return digits;
  if (whole.includes(group) && !isGrouped(whole, group)) return digits;
  const ungrouped = whole.replaceAll(group, '');
  return `${sign}${ungrouped}${fraction === undefined ? '' : `.${fraction}`}`;
}

/**
 * A quantity's cell: its digits and, where one is written behind them, the unit that holds for this cell. Undefined where what stands behind is
 * no unit of the quantity: the text then goes on as it is.
 */
export function quantityIn(
  text: string,
  units: readonly UnitCode[],
  mark: DecimalMark,
): { digits: string; unit?: UnitCode } | undefined {
  const found = numberInFront(text);
  if (found === undefined) return undefined;
  const digits = plainDigits(found.digits, mark);
  if (found.rest === '') return { digits };
  const unit = unitSpelled(found.rest, units);
  return unit === undefined ? undefined : { digits, unit };
}
