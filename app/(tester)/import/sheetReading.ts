import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import type { CellWord } from '@/lib/capture/sheet/words';

interface PostedReading {
  columns: { field: string; column: number; unit?: string }[];
  given: Record<string, string>;
  words: CellWord[];
  decimalMark?: string;
  dateOrder?: string;
  blankDates?: string;
}

/** How the posted mapper reads the sheet; fields that nothing feeds and fixed values left empty stay out. */
export function sheetReadingOf(data: FormData): PostedReading {
  const reading: PostedReading = { columns: [], given: {}, words: [] };
  const text = (name: string): string => {
    const value = data.get(name);
    return typeof value === 'string' ? value.trim() : '';
  };
  for (const { name, units } of IMPORT_FIELDS) {
    const column = text(`column.${name}`);
    if (/^\d{1,4}$/.test(column)) {
      const unit = units === undefined ? undefined : text(`unit.${name}`) || units[0];
      reading.columns.push({ field: name, column: Number(column), ...(unit === undefined ? {} : { unit }) });
    }
    const given = text(`given.${name}`);
    if (given !== '') reading.given[name] = given;
  }
  for (const name of ['decimalMark', 'dateOrder', 'blankDates'] as const)
    if (text(name) !== '') reading[name] = text(name);
  // Each word comes with its field and the text as the sheet has it, side by side.
  const [fields, texts, values] = ['word.field', 'word.text', 'word.value'].map((name) =>
    data.getAll(name).map(String),
  );
  for (const [at, value] of (values ?? []).entries()) {
    const [field, written] = [fields?.[at], texts?.[at]];
    if (field !== undefined && written !== undefined && value !== '')
      reading.words.push({ field, text: written, value });
  }
  return reading;
}
