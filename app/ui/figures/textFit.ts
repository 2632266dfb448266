/**
 * Width of a text in the interface face, by its mean letter width (0.52 em over English text and
 * digits, measured on the shipped font). The server has no font metrics; a figure needs it only to
 * wrap labels and to keep them apart.
 */
export function textWidth(text: string, size: number): number {
  return text.length * size * 0.52;
}

/** Breaks a label at spaces into lines no wider than `width`; a last line that is still too long is cut. */
export function wrapText(text: string, width: number, size: number, maxLines = 2): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size) > width && lines.length < maxLines - 1) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  const room = Math.floor(width / (size * 0.52));
  lines.push(line.length > room ? `${line.slice(0, Math.max(1, room - 1)).trimEnd()}…` : line);
  return lines;
}
