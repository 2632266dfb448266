/** Which public figure: its kind, the thing or class that it is of, and what was chosen. */
export interface FigureAddress {
  kind: string;
  key: string;
  /** Names with one value or several. */
  query?: Readonly<Record<string, string | readonly string[] | undefined>>;
}

export type FileExtension = 'svg' | 'png' | 'csv';
export type FigureTheme = 'light' | 'dark';

/** A figure's own address as a file. Names in one order, so that one figure has one address. */
export function figureHref(
  { kind, key, query = {} }: FigureAddress,
  extension: FileExtension,
  choice: Readonly<Record<string, string | undefined>> = {},
): string {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries({ ...query, ...choice }).sort(([a], [b]) => (a < b ? -1 : 1))) {
    for (const one of typeof value === 'string' ? [value] : (value ?? [])) params.append(name, one);
  }
  const text = params.toString();
  return `/figures/${kind}/${encodeURIComponent(key)}.${extension}${text === '' ? '' : `?${text}`}`;
}
