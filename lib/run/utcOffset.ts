/** Offsets from UTC in use somewhere, in minutes (tz database; from memory). */
export const UTC_OFFSETS_MIN: readonly number[] = [
  ...Array.from({ length: 27 }, (_, index) => (index - 12) * 60),
  ...[-570, -210, -150, 210, 270, 330, 345, 390, 525, 570, 630, 765],
].sort((a, b) => a - b);

/** The offset that a form holds, in minutes; UTC where it holds none that can be read. */
export function typedOffset(text = ''): number {
  return /^-?\d{1,4}$/.test(text) ? Number(text) : 0;
}

/** `UTC+01:00`; minutes are counted east of UTC. */
export function offsetLabel(minutes: number): string {
  const size = Math.abs(minutes);
  const clock = `${String(Math.floor(size / 60)).padStart(2, '0')}:${String(size % 60).padStart(2, '0')}`;
  return minutes === 0 ? 'UTC' : `UTC${minutes < 0 ? '−' : '+'}${clock}`;
}
