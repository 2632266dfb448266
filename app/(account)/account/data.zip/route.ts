import { Readable } from 'node:stream';
import { signedIn } from '@/app/visitor/actor';
import { problemResponse } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { ownDataZip } from '@/lib/registry/privacy/ownDataZip';

export const dynamic = 'force-dynamic';

/** Everything that is kept of whoever asks, as it is read. */
export async function GET(): Promise<Response> {
  try {
    const chunks = await ownDataZip(registry(), await signedIn());
    return new Response(Readable.toWeb(Readable.from(chunks)) as ReadableStream, {
      headers: {
        'Content-Type': 'application/zip',
        'Content-Disposition': 'attachment; filename="my-data.zip"',
        'Cache-Control': 'private, no-store',
        'X-Content-Type-Options': 'nosniff',
      },
    });
  } catch (error) {
    return problemResponse(error);
  }
}
