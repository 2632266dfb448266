import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { extract, pack } from 'tar-stream';

/** A file in an archive: small enough to be held whole. */
export interface Member {
  name: string;
  bytes: Buffer;
}

export interface MemberSum {
  name: string;
  bytes: number;
  /** SHA-256 in hexadecimal. */
  sha256: string;
}

/** What is longer is cut into several members by its writer. */
export const MOST_MEMBER_BYTES = 64 * 1024 * 1024;

export function sumOf({ name, bytes }: Member): MemberSum {
  return { name, bytes: bytes.byteLength, sha256: createHash('sha256').update(bytes).digest('hex') };
}

/**
 * Writes a gzipped tar archive (POSIX.1-2017, pax) member by member, each pressed on to the disk before the next is
 * asked for. The file must not be there yet and is its owner's alone; it is flushed before this returns.
 */
export async function writeArchive(
  file: string,
  fill: (add: (member: Member) => Promise<void>) => Promise<void>,
): Promise<void> {
  const tar = pack();
  const written = pipeline(
    Readable.from(tar),
    createGzip({ level: 6 }),
    createWriteStream(file, { flags: 'wx', mode: 0o600 }),
  );
  const add = ({ name, bytes }: Member) =>
    new Promise<void>((resolve, reject) => {
      // A disk that is full ends the pipeline, and with it whoever waits to go on.
      written.catch(reject);
      const entry = tar.entry({ name, size: bytes.byteLength, mode: 0o600, mtime: new Date(0) }, (error) =>
        error ? reject(error) : resolve(),
      );
      entry.end(bytes);
    });
  try {
    await fill(add);
    tar.finalize();
  } catch (error) {
    tar.destroy(error instanceof Error ? error : new Error(String(error)));
    await written.catch(() => undefined);
    throw error;
  }
  await written;
  const handle = await open(file, 'r+');
  await handle.sync().finally(() => handle.close());
}

/** The members of an archive in their order, one in memory at a time. Throws where the file is damaged or cut off. */
export async function* readArchive(file: string): AsyncGenerator<Member> {
  const tar = extract();
  const read = pipeline(createReadStream(file), createGunzip(), tar);
  // Told by the loop below, which ends with it.
  read.catch(() => undefined);
  for await (const entry of tar) {
    const { name, size = 0 } = entry.header;
    if (size > MOST_MEMBER_BYTES) throw new Error(`${file}: ${name} is larger than any part of a backup`);
    const chunks: Buffer[] = [];
    for await (const chunk of entry as AsyncIterable<Uint8Array>) chunks.push(Buffer.from(chunk));
    yield { name, bytes: Buffer.concat(chunks) };
  }
  await read;
}
