import type { FieldPhoto } from './fieldRun';

/** Digits of a display stay readable at this, and a photo of ten megabytes becomes one of half a megabyte. */
const LONGEST_SIDE_PX = 2000;
const JPEG_QUALITY = 0.85;

/** The size within the longest side, in proportion; a smaller picture stays as it is. */
export function fittedSize(widthPx: number, heightPx: number, longestPx: number = LONGEST_SIDE_PX) {
  const scale = Math.min(1, longestPx / Math.max(widthPx, heightPx));
  return {
    widthPx: Math.max(1, Math.round(widthPx * scale)),
    heightPx: Math.max(1, Math.round(heightPx * scale)),
  };
}

/** Made smaller on the phone, which also leaves place and device behind; kept as it is where that cannot be done. */
export async function fieldPhotoOf(
  file: File,
  run: { key: string; accountId: string },
  kind: string,
  addedAtMs: number,
): Promise<FieldPhoto> {
  const smaller = await shrunk(file);
  const kept = smaller ?? file;
  const bytes = new Uint8Array(await kept.arrayBuffer());
  return {
    id: `${run.key}:${kind}:${await hexDigest(bytes)}`,
    runKey: run.key,
    accountId: run.accountId,
    kind,
    bytes,
    mediaType: kept.type,
    addedAtMs,
  };
}

async function shrunk(file: File): Promise<Blob | undefined> {
  try {
    const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const { widthPx, heightPx } = fittedSize(bitmap.width, bitmap.height);
    const canvas = document.createElement('canvas');
    canvas.width = widthPx;
    canvas.height = heightPx;
    canvas.getContext('2d')?.drawImage(bitmap, 0, 0, widthPx, heightPx);
    bitmap.close();
    const blob = await new Promise<Blob | null>((resolve) =>
      canvas.toBlob(resolve, 'image/jpeg', JPEG_QUALITY),
    );
    return blob ?? undefined;
  } catch {
    // A format that this browser does not decode: the server looks at it.
    return undefined;
  }
}

async function hexDigest(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
