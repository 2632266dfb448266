import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { evidenceFile } from '@/lib/registry/runs/evidenceFile';

export const dynamic = 'force-dynamic';

const EXTENSIONS: Readonly<Record<string, string>> = { 'image/jpeg': 'jpg', 'image/webp': 'webp' };

/** A stored picture by its digest. The headers keep whatever is in it a picture and nothing else. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ digest: string }> },
): Promise<Response> {
  try {
    const { digest } = await params;
    const { bytes, mediaType } = await evidenceFile(registry(), await signedIn(), digest);
    const headers = {
      'Content-Type': mediaType,
      'Content-Disposition': `inline; filename="photo-${digest.slice(0, 8)}.${EXTENSIONS[mediaType] ?? 'bin'}"`,
      'Content-Security-Policy': "default-src 'none'; sandbox",
      'X-Content-Type-Options': 'nosniff',
      // Who may see it depends on who asks, so no shared cache keeps it.
      'Cache-Control': 'private, max-age=3600',
      Vary: 'Cookie',
      ETag: `"${digest}"`,
    };
    if (request.headers.get('if-none-match') === headers.ETag) {
      return new Response(null, { status: 304, headers });
    }
    return new Response(new Uint8Array(bytes), { headers });
  } catch (error) {
    return problemResponse(error);
  }
}
