/**
 * Turns a photo from outside into one that is safe to keep and show: recognised by its content, decoded within limits,
 * turned upright, and encoded anew from bare pixels, so that no metadata (place, device, owner, editing history) and
 * no bytes hidden beside the picture survive.
 */
import { fileTypeFromBuffer } from 'file-type';
import sharp, { type Metadata } from 'sharp';
import { type CaptureTime, summariseExif } from './exifTime';

export interface ImageLimits {
  readonly maxBytes: number;
  readonly maxPixels: number;
  /** The longer edge of the kept picture; a display's digits stay legible far below it. */
  readonly maxEdge: number;
  readonly thumbnailEdge: number;
  readonly timeoutSeconds: number;
}

export const imageLimits: ImageLimits = {
  maxBytes: 20 * 1024 * 1024,
  maxPixels: 60_000_000,
  maxEdge: 4096,
  thumbnailEdge: 480,
  timeoutSeconds: 30,
};

export type ImageRefusalReason =
  | 'tooLarge'
  | 'tooManyPixels'
  | 'notAnImage'
  | 'unsupportedFormat'
  | 'damaged';

export interface ImageRefusal {
  readonly ok: false;
  readonly reason: ImageRefusalReason;
  /** The HTTP status that says the same: 413, 415 or 422. */
  readonly status: 413 | 415 | 422;
  readonly message: string;
}

export interface EncodedImage {
  readonly bytes: Uint8Array;
  readonly mediaType: 'image/jpeg' | 'image/webp';
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface AcceptedImage {
  readonly ok: true;
  readonly image: EncodedImage;
  readonly thumbnail: EncodedImage;
  /** Read before it was stripped, to be stored only if the owner agrees. */
  readonly captureTime: CaptureTime | null;
  /** What the original carried and the kept picture does not, to tell its owner. */
  readonly removed: readonly ('exif' | 'location' | 'xmp' | 'iptc' | 'colourProfile')[];
  /** 64-bit difference hash in hexadecimal: alike for near-duplicates of one picture. */
  readonly differenceHash: string;
}

const acceptedTypes: ReadonlySet<string> = new Set(['image/jpeg', 'image/png', 'image/webp', 'image/avif']);
const heicTypes: ReadonlySet<string> = new Set([
  'image/heic',
  'image/heif',
  'image/heic-sequence',
  'image/heif-sequence',
]);

/** Accepts JPEG, PNG, WebP and AVIF; HEIC only where the decoder at hand can read it. */
export async function acceptImage(
  bytes: Uint8Array,
  limits: ImageLimits = imageLimits,
): Promise<AcceptedImage | ImageRefusal> {
  if (bytes.byteLength > limits.maxBytes) return refuse('tooLarge', limits);
  const type = await recognise(bytes);
  if (type === null || !type.startsWith('image/')) return refuse('notAnImage', limits);
  if (!acceptedTypes.has(type) && !heicTypes.has(type)) return refuse('unsupportedFormat', limits);

  let metadata: Metadata;
  try {
    metadata = await open(bytes, limits).metadata();
  } catch (error) {
    return refuse(reasonOf(error, type), limits);
  }
  if (metadata.width * metadata.height > limits.maxPixels) return refuse('tooManyPixels', limits);

  try {
    const [image, thumbnail, differenceHash] = [
      await encodeFull(bytes, limits),
      await encodeThumbnail(bytes, limits),
      await hashDifferences(bytes, limits),
    ];
    const exif = metadata.exif
      ? await summariseExif(metadata.exif)
      : { captureTime: null, hasLocation: false };
    const removed: AcceptedImage['removed'][number][] = [];
    if (metadata.exif) removed.push('exif');
    if (exif.hasLocation) removed.push('location');
    if (metadata.xmp) removed.push('xmp');
    if (metadata.iptc) removed.push('iptc');
    if (metadata.icc) removed.push('colourProfile');
    return { ok: true, image, thumbnail, captureTime: exif.captureTime, removed, differenceHash };
  } catch (error) {
    return refuse(reasonOf(error, type), limits);
  }
}

/** Number of differing bits between two difference hashes; up to about 6 of 64 means the same picture. */
export function hashDistance(a: string, b: string): number {
  let bits = BigInt(`0x${a}`) ^ BigInt(`0x${b}`);
  let count = 0;
  for (; bits > 0n; bits &= bits - 1n) count++;
  return count;
}

function open(bytes: Uint8Array, limits: ImageLimits) {
  // One page only: an animation counts as its first picture. 'error' tolerates harmless warnings, not missing data.
  return sharp(bytes, {
    limitInputPixels: limits.maxPixels,
    failOn: 'error',
    pages: 1,
    sequentialRead: true,
  }).timeout({ seconds: limits.timeoutSeconds });
}

async function encodeFull(bytes: Uint8Array, limits: ImageLimits): Promise<EncodedImage> {
  // Full chroma: at 4:2:0 thin coloured digits on a dark display smear.
  const { data, info } = await open(bytes, limits)
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .resize({ width: limits.maxEdge, height: limits.maxEdge, fit: 'inside', withoutEnlargement: true })
    .toColourspace('srgb')
    .jpeg({ quality: 86, chromaSubsampling: '4:4:4', progressive: true })
    .toBuffer({ resolveWithObject: true });
  return { bytes: data, mediaType: 'image/jpeg', widthPx: info.width, heightPx: info.height };
}

async function encodeThumbnail(bytes: Uint8Array, limits: ImageLimits): Promise<EncodedImage> {
  const { data, info } = await open(bytes, limits)
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .resize({
      width: limits.thumbnailEdge,
      height: limits.thumbnailEdge,
      fit: 'inside',
      withoutEnlargement: true,
    })
    .toColourspace('srgb')
    .webp({ quality: 78 })
    .toBuffer({ resolveWithObject: true });
  return { bytes: data, mediaType: 'image/webp', widthPx: info.width, heightPx: info.height };
}

/** Difference hash: 9 × 8 grey pixels, one bit for each neighbour to the right that is brighter (common practice). */
async function hashDifferences(bytes: Uint8Array, limits: ImageLimits): Promise<string> {
  const { data, info } = await open(bytes, limits)
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .resize(9, 8, { fit: 'fill' })
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  let bits = 0n;
  for (let y = 0; y < 8; y++) {
    for (let x = 0; x < 8; x++) {
      const at = (y * 9 + x) * info.channels;
      bits = (bits << 1n) | ((data[at + info.channels] ?? 0) > (data[at] ?? 0) ? 1n : 0n);
    }
  }
  return bits.toString(16).padStart(16, '0');
}

async function recognise(bytes: Uint8Array): Promise<string | null> {
  try {
    return (await fileTypeFromBuffer(bytes))?.mime ?? null;
  } catch {
    // The recogniser reads past the end of cut-off containers and says so by throwing: then it is no image.
    return null;
  }
}

function reasonOf(error: unknown, type: string): ImageRefusalReason {
  const message = error instanceof Error ? error.message : '';
  if (/pixel limit/i.test(message)) return 'tooManyPixels';
  if (heicTypes.has(type)) return 'unsupportedFormat';
  return 'damaged';
}

function refuse(reason: ImageRefusalReason, limits: ImageLimits): ImageRefusal {
  const megabytes = Math.round(limits.maxBytes / 1024 / 1024);
  const megapixels = Math.round(limits.maxPixels / 1e6);
  const known: Record<ImageRefusalReason, Pick<ImageRefusal, 'status' | 'message'>> = {
    tooLarge: {
      status: 413,
      message: `The photo is larger than ${megabytes} MB. Send a smaller version of it.`,
    },
    tooManyPixels: {
      status: 413,
      message: `The photo has more than ${megapixels} megapixels. Send a smaller version of it.`,
    },
    notAnImage: { status: 415, message: 'The file is not a photo. Send a JPEG, PNG, WebP or AVIF file.' },
    unsupportedFormat: {
      status: 415,
      message: 'This kind of picture cannot be read here. Send a JPEG, PNG, WebP or AVIF file.',
    },
    damaged: { status: 422, message: 'The photo is cut off or damaged. Send it again from the original.' },
  };
  return { ok: false, reason, ...known[reason] };
}
