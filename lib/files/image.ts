/**
 * Turns a photo from outside into one that is safe to keep and show: recognised by its content, decoded within limits,
 * turned upright, and encoded anew from bare pixels, so that no metadata (place, device, owner, editing history) and
 * no bytes hidden beside the picture survive.
 */
import { fileTypeFromBuffer } from 'file-type';
import sharp, { type Metadata } from 'sharp';
import { type CaptureTime, summariseExif } from './exifTime';
import { pictureHash } from './pictureHash';

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
  /** What it looks like (see pictureHash.ts); null where nothing is to be seen. */
  readonly hash: bigint | null;
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
    const image = await encodeFull(bytes, limits);
    const thumbnail = await encodeThumbnail(bytes, limits);
    const hash = await pictureHash(thumbnail.bytes);
    const exif = metadata.exif
      ? await summariseExif(metadata.exif)
      : { captureTime: null, hasLocation: false };
    const removed: AcceptedImage['removed'][number][] = [];
    if (metadata.exif) removed.push('exif');
    if (exif.hasLocation) removed.push('location');
    if (metadata.xmp) removed.push('xmp');
    if (metadata.iptc) removed.push('iptc');
    if (metadata.icc) removed.push('colourProfile');
    return { ok: true, image, thumbnail, captureTime: exif.captureTime, removed, hash };
  } catch (error) {
    return refuse(reasonOf(error, type), limits);
  }
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
