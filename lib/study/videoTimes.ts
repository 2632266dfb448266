/**
 * Where the runs of a study begin in its tester's video, in the form in which times stand under videos: m:ss, or h:mm:ss
 * from an hour on, in whole seconds from the video's beginning.
 */

/** Longer than any video of a day's driving; as the database bounds it. */
export const MOST_VIDEO_S = 24 * 3600 - 1;

const FORM = /^(?:(\d{1,2}):(?=\d\d:))?(\d{1,3}):(\d\d)$/;

/** "3:07", "83:07" or "1:23:07" in seconds; undefined where it is no such time. */
export function parseVideoTime(text: string): number | undefined {
  const found = FORM.exec(text.trim());
  if (found === null) return undefined;
  const [, hours, minutes, seconds] = found;
  const [h, m, s] = [Number(hours ?? 0), Number(minutes), Number(seconds)];
  if (s > 59 || (hours !== undefined && m > 59)) return undefined;
  const all = 3600 * h + 60 * m + s;
  return all > MOST_VIDEO_S ? undefined : all;
}

export function showVideoTime(seconds: number): string {
  const two = (part: number) => String(part).padStart(2, '0');
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

export interface VideoMark {
  atS: number;
  words: string;
}

/** One line a mark, the earliest first. It begins at 0:00, as what reads such lists wants it. */
export function videoList(opening: string, marks: readonly VideoMark[]): string {
  const ordered = marks.toSorted((a, b) => a.atS - b.atS);
  const all = ordered[0]?.atS === 0 ? ordered : [{ atS: 0, words: opening }, ...ordered];
  return all
    .map(({ atS, words }) => `${showVideoTime(atS)} ${words.replaceAll(/\s+/g, ' ').trim()}`)
    .join('\n');
}
