import { Readable } from 'node:stream';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { openSnapshot } from '@/lib/registry/openData/snapshots';
import { NotFound } from '@/lib/run/errors';

export const dynamic = 'force-dynamic';

/** A published snapshot, streamed. It never changes, so whoever has it by its digest needs no other. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ file: string }> },
): Promise<Response> {
  try {
    const { file } = await params;
    if (!file.endsWith('.zip')) throw new NotFound('There is no such file.');
    const { name, sha256, sizeBytes, publishedAt, stream } = await openSnapshot(
      registry(),
      file.slice(0, -4),
    );
    const headers = {
      ETag: `"${sha256}"`,
      'Cache-Control': 'public, max-age=31536000, immutable',
      'Last-Modified': publishedAt.toUTCString(),
    };
    if (request.headers.get('If-None-Match') === headers.ETag)
      return new Response(null, { status: 304, headers });
    return new Response(Readable.toWeb(stream()) as ReadableStream, {
      headers: {
        ...headers,
        'Content-Type': 'application/zip',
        'Content-Length': String(sizeBytes),
        'Content-Disposition': `attachment; filename="${name}.zip"`,
        // RFC 9530
        'Repr-Digest': `sha-256=:${Buffer.from(sha256, 'hex').toString('base64')}:`,
        'Access-Control-Allow-Origin': '*',
        'X-Content-Type-Options': 'nosniff',
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
