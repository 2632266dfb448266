/**
 * Reads when a photo was taken, and whether it says where, out of an EXIF block, and nothing else.
 *
 * The block is a TIFF 6.0 structure (byte order mark, 42, offset of the first directory; entries of 12 bytes) as laid
 * down in Exif 2.32 (CIPA DC-008), 4.5 and 4.6. Tags: 0x8769 Exif directory, 0x8825 GPS directory, 0x0132 DateTime,
 * 0x9003 DateTimeOriginal, 0x9010 and 0x9011 the time offsets of both. Every offset comes from outside and is checked.
 */
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

const tag = {
  dateTime: 0x0132,
  exifDirectory: 0x8769,
  gpsDirectory: 0x8825,
  dateTimeOriginal: 0x9003,
  offsetTime: 0x9010,
  offsetTimeOriginal: 0x9011,
} as const;

const maxEntries = 512;
const asciiType = 2;

interface Entry {
  readonly type: number;
  readonly count: number;
  /** Where the four bytes of value or offset stand. */
  readonly at: number;
}

/** @param exif with or without the leading "Exif\0\0" that JPEG puts before the TIFF header */
export function summariseExif(exif: Uint8Array): ExifSummary {
  const nothing = { captureTime: null, hasLocation: false };
  const start = hasExifPrefix(exif) ? 6 : 0;
  const view = new DataView(exif.buffer, exif.byteOffset + start, exif.byteLength - start);
  if (view.byteLength < 8) return nothing;
  const order = view.getUint16(0);
  if (order !== 0x4949 && order !== 0x4d4d) return nothing;
  const little = order === 0x4949;
  if (view.getUint16(2, little) !== 42) return nothing;

  const main = readDirectory(view, view.getUint32(4, little), little);
  const exifEntry = main.get(tag.exifDirectory);
  const detail = exifEntry
    ? readDirectory(view, view.getUint32(exifEntry.at, little), little)
    : new Map<number, Entry>();
  const text = (entry: Entry | undefined) => readAscii(view, entry, little);
  const captureTime =
    toCaptureTime(text(detail.get(tag.dateTimeOriginal)), text(detail.get(tag.offsetTimeOriginal))) ??
    toCaptureTime(text(main.get(tag.dateTime)), text(detail.get(tag.offsetTime)));
  return { captureTime, hasLocation: main.has(tag.gpsDirectory) };
}

function hasExifPrefix(bytes: Uint8Array): boolean {
  return [0x45, 0x78, 0x69, 0x66, 0, 0].every((byte, at) => bytes[at] === byte);
}

function readDirectory(view: DataView, offset: number, little: boolean): Map<number, Entry> {
  const entries = new Map<number, Entry>();
  if (offset + 2 > view.byteLength) return entries;
  const count = Math.min(view.getUint16(offset, little), maxEntries);
  for (let i = 0; i < count; i++) {
    const at = offset + 2 + 12 * i;
    if (at + 12 > view.byteLength) break;
    entries.set(view.getUint16(at, little), {
      type: view.getUint16(at + 2, little),
      count: view.getUint32(at + 4, little),
      at: at + 8,
    });
  }
  return entries;
}

function readAscii(view: DataView, entry: Entry | undefined, little: boolean): string | null {
  if (entry === undefined || entry.type !== asciiType || entry.count > 64) return null;
  // Values of up to four bytes stand in the entry itself, longer ones at the offset it holds.
  const from = entry.count <= 4 ? entry.at : view.getUint32(entry.at, little);
  if (from + entry.count > view.byteLength) return null;
  let text = '';
  for (let i = 0; i < entry.count; i++) {
    const code = view.getUint8(from + i);
    if (code === 0) break;
    text += String.fromCharCode(code);
  }
  return text;
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
