/** Several METAR or SPECI pasted together, one a line or each ended by "=" (WMO-No. 306, FM 15, 15.1.1). */
export function splitReports(text: string): string[] {
  const parts: string[] = [];
  for (const line of text.split(/\r?\n/)) {
    // An indented line goes on with the report above it.
    const continues = /^\s+\S/.test(line) && parts.length > 0 && !parts.at(-1)?.endsWith('=');
    for (const [at, piece] of line.split(/(?<==)/).entries()) {
      const trimmed = piece.trim();
      if (trimmed === '' || trimmed === '=') continue;
      if (at === 0 && continues) parts[parts.length - 1] = `${parts.at(-1)} ${trimmed}`;
      else parts.push(trimmed);
    }
  }
  return parts.map((part) => part.replace(/=$/, '').trim()).filter((part) => part !== '');
}
