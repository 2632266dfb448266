import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';

/** SHA-256 (FIPS 180-4) of what a stream holds, in hexadecimal, read to its end. */
export async function sha256OfStream(stream: AsyncIterable<Uint8Array>): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of stream) hash.update(chunk);
  return hash.digest('hex');
}

export function sha256OfFile(file: string): Promise<string> {
  return sha256OfStream(createReadStream(file));
}
