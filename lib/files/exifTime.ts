/**
 * Reads when a photo was taken, and whether it says where, out of an EXIF block, and nothing else: the block is read by
 * a library, what it says of time is judged here. Names of tags: Exif 2.32 (CIPA DC-008), 4.6.
 */
import exifr from 'exifr';

export interface CaptureTime {
  /** As the camera's clock showed it, YYYY-MM-DDThh:mm:ss, with no zone of its own. */
  readonly local: string;
  /** East of UTC; null when the camera did not say. */
  readonly offsetMinutes: number | null;
}

export interface ExifSummary {
  readonly captureTime: CaptureTime | null;
  readonly hasLocation: boolean;
}

/** No camera writes more than these few; everything else in the block stays unread. */
const dateTags = ['ModifyDate', 'DateTimeOriginal', 'OffsetTime', 'OffsetTimeOriginal'] as const;

/** @param exif with or without the leading "Exif\0\0" that JPEG puts before the TIFF header */
export async function summariseExif(exif: Uint8Array): Promise<ExifSummary> {
  const block = hasExifPrefix(exif) ? exif.subarray(6) : exif;
  const said = await readTags(block);
  const text = (tag: (typeof dateTags)[number]) => (typeof said[tag] === 'string' ? said[tag] : null);
  const captureTime =
    toCaptureTime(text('DateTimeOriginal'), text('OffsetTimeOriginal')) ??
    toCaptureTime(text('ModifyDate'), text('OffsetTime'));
  return { captureTime, hasLocation: said.GpsIFD !== undefined };
}

/** What a damaged block throws is a block that says nothing: the picture is judged by its pixels. */
async function readTags(block: Uint8Array): Promise<Record<string, unknown>> {
  try {
    const tags = await exifr.parse(block, {
      tiff: true,
      ifd0: { pick: ['ModifyDate', 0x8825] },
      exif: { pick: dateTags.filter((tag) => tag !== 'ModifyDate') },
      reviveValues: false,
      translateValues: false,
      // Keeps the pointer to the GPS directory: that it is there is all that is asked of it.
      sanitize: false,
    } as never);
    return (tags ?? {}) as Record<string, unknown>;
  } catch {
    return {};
  }
}

function hasExifPrefix(bytes: Uint8Array): boolean {
  return [0x45, 0x78, 0x69, 0x66, 0, 0].every((byte, at) => bytes[at] === byte);
}

/** "2026:05:01 10:20:30" and "+02:00"; blanks and zeros mean the camera's clock was not set. */
function toCaptureTime(dateTime: string | null, offset: string | null): CaptureTime | null {
  const match = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(dateTime ?? '');
  if (match === null) return null;
  const [year, month, day, hour, minute, second] = match.slice(1).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const utc = new Date(Date.UTC(year, month - 1, day, hour, minute, second));
  // A date such as 31 February rolls over and so betrays itself.
  const isReal = utc.getUTCFullYear() === year && utc.getUTCMonth() === month - 1 && utc.getUTCDate() === day;
  if (!isReal || year < 1990 || hour > 23 || minute > 59 || second > 59) return null;
  return { local: utc.toISOString().slice(0, 19), offsetMinutes: toOffsetMinutes(offset) };
}

function toOffsetMinutes(text: string | null): number | null {
  if (text === 'Z') return 0;
  const match = /^([+-])(\d\d):(\d\d)$/.exec(text ?? '');
  if (match === null) return null;
  const minutes = Number(match[2]) * 60 + Number(match[3]);
  if (Number(match[3]) > 59 || minutes > 14 * 60) return null;
  return match[1] === '-' ? 0 - minutes : minutes;
}
