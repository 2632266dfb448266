/**
 * Advance widths of the interface face (Source Sans 3, regular) in em, by kinds of letter. The server
 * has no font metrics; figures need a width only to wrap labels and to keep words apart, so a few
 * per cent too wide is right.
 */
const letterWidths: readonly [RegExp, number][] = [
  [/\s/, 0.2],
  [/[ijlI.,:;'|!·]/, 0.27],
  [/[ftr()[\]/\-–]/, 0.35],
  [/[mMwW%@…—]/, 0.84],
  [/[A-Z−+±=<>]/, 0.58],
];
const otherWidth = 0.52;

export function textWidth(text: string, size: number): number {
  let em = 0;
  for (const letter of text) em += letterWidths.find(([kind]) => kind.test(letter))?.[1] ?? otherWidth;
  return em * size;
}

/** Breaks a label at spaces into lines no wider than `width`; a last line that is still too long is cut. */
export function wrapText(text: string, width: number, size: number, maxLines = 2): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && lines.length < maxLines - 1 && textWidth(longer, size) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  return [...lines, cutText(line, width, size)];
}

/** Breaks text into as many lines as it needs and loses nothing; what has no space, such as an address, breaks anywhere. */
export function wrapWhole(text: string, width: number, size: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (textWidth(longer, size) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const letter of word) {
      if (line !== '' && textWidth(line + letter, size) > width) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
  }
  return [...lines, line];
}

function cutText(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  let kept = text;
  while (kept.length > 1 && textWidth(`${kept}…`, size) > width) kept = kept.slice(0, -1);
  return `${kept.trimEnd()}…`;
}
