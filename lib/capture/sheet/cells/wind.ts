/** Wind as notes hold it: by the compass, and calm as a word. */

/** The sixteen points of the compass from north over east: a circle's 360 degrees in sixteen parts. */
const POINTS = [
  'n',
  'nne',
  'ne',
  'ene',
  'e',
  'ese',
  'se',
  'sse',
  's',
  'ssw',
  'sw',
  'wsw',
  'w',
  'wnw',
  'nw',
  'nnw',
];
const WORDS: ReadonlyMap<string, string> = new Map([
  ['north', 'n'],
  ['east', 'e'],
  ['south', 's'],
  ['west', 'w'],
]);

const CALM = new Set(['calm', 'none', 'nowind', 'still', 'windstill', 'nil']);

export function isCalm(text: string): boolean {
  return CALM.has(text.toLowerCase().replace(/[\s.-]/g, ''));
}

const UNKNOWN = new Set([
  '?',
  'unknown',
  'notknown',
  'n/a',
  'na',
  'unk',
  'vrb',
  'var',
  'variable',
  '-',
  '–',
  '--',
]);

/** Words for a direction that nobody noted. */
export function isUnknownDirection(text: string): boolean {
  return UNKNOWN.has(text.toLowerCase().replace(/[\s.]/g, ''));
}

/** Degrees from north of a point of the compass, "SW" or "south-west"; undefined where the text is none. */
export function compassDegrees(text: string): number | undefined {
  let squeezed = text
    .toLowerCase()
    .replace(/^from\s+(the\s+)?/, '')
    .replace(/[\s.-]/g, '')
    .replace(/erly$/, '');
  for (const [word, letter] of WORDS) squeezed = squeezed.replaceAll(word, letter);
  const at = POINTS.indexOf(squeezed);
  return at < 0 ? undefined : at * 22.5;
}

/** "SW 10 kn" or "10 kn SW": direction and speed of one cell. */
export function windIn(text: string): { speed: string; degrees: number } | undefined {
  const ahead = /^([a-z][a-z -]{0,20}?)[\s,@]+(?:at\s+)?(\d.*)$/i.exec(text.trim());
  const behind = /^(\d.*?)[\s,]+(?:from\s+)?(?:the\s+)?([a-z-]{1,12})$/i.exec(text.trim());
  for (const [speed, point] of [
    [ahead?.[2], ahead?.[1]],
    [behind?.[1], behind?.[2]],
  ]) {
    const degrees = point === undefined ? undefined : compassDegrees(point);
    if (speed !== undefined && degrees !== undefined) return { speed: speed.trim(), degrees };
  }
  return undefined;
}
