import { type OutCell, writeCsv } from '@/lib/capture/sheet/writeSheet';
import { cellText, type TwinTable } from './description';

const NUMBER = String.raw`[+−-]?\d+(?:[\s\u202F]\d{3})*(?:[.,]\d+)?`;
const ALONE = new RegExp(`^${NUMBER}$`);
const INTERVAL = new RegExp(`^(${NUMBER}) to (${NUMBER})$`);

/**
 * The numbers of a figure as CSV, no finer than they are shown. A displayed number becomes a plain one; a column of
 * intervals becomes two columns, from and to.
 */
export function figureCsv({ columns, rows }: TwinTable): string {
  const texts = rows.map((row) => columns.map((_, index) => cellText(row[index] ?? '')));
  const isInterval = columns.map((_, index) => {
    const shown = texts.map((row) => row[index] ?? '').filter((text) => !isNothing(text));
    return shown.length > 0 && shown.every((text) => INTERVAL.test(text));
  });
  const header = columns.flatMap(({ header: words, unit }, index) => {
    const named = (part?: string) => [words, part, unit].filter(Boolean).join(', ');
    return isInterval[index] ? [named('from'), named('to')] : [named()];
  });
  return writeCsv(
    header,
    texts.map((row) => row.flatMap((text, index) => (isInterval[index] ? endsOf(text) : [plain(text)]))),
  );
}

/** A number as the pages write it, as a number: a true minus sign, thin spaces between groups, either decimal mark. */
export function shownNumber(text: string): number | undefined {
  if (!ALONE.test(text)) return undefined;
  return Number(
    text
      .replace('−', '-')
      .replace(/[\s\u202F+]/g, '')
      .replace(',', '.'),
  );
}

function isNothing(text: string): boolean {
  return text === '' || text === '–';
}

function plain(text: string): OutCell {
  return isNothing(text) ? null : (shownNumber(text) ?? text);
}

function endsOf(text: string): OutCell[] {
  const [, low = '', high = ''] = INTERVAL.exec(text) ?? [];
  return [plain(low), plain(high)];
}
