import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';

interface PostedReading {
  columns: { field: string; column: number; unit?: string }[];
  given: Record<string, string>;
}

/** How the posted mapper reads the sheet; fields that nothing feeds and fixed values left empty stay out. */
export function sheetReadingOf(data: FormData): PostedReading {
  const reading: PostedReading = { columns: [], given: {} };
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
  return reading;
}
