import { TooLarge } from '@/lib/run/errors';

/** The whole body, or TooLarge as soon as more than the limit is announced or has arrived. */
export async function boundedBody(
  request: Request,
  limitBytes: number,
  whatIsTooLarge: string,
): Promise<Uint8Array<ArrayBuffer>> {
  const refusal = () => new TooLarge(whatIsTooLarge);
  if (Number(request.headers.get('content-length') ?? 0) > limitBytes) throw refusal();
  const chunks: Uint8Array[] = [];
  let size = 0;
  const reader = request.body?.getReader();
  while (reader !== undefined) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.byteLength;
    if (size > limitBytes) {
      await reader.cancel();
      throw refusal();
    }
    chunks.push(value);
  }
  const body = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    body.set(chunk, at);
    at += chunk.byteLength;
  }
  return body;
}
