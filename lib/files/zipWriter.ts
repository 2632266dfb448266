import { createWriteStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import yazl from 'yazl';

/** DOS time has no zone: the earliest that it can say, wherever the machine stands. */
const NO_TIME = new Date(1980, 0, 1);

/**
 * Writes a zip archive member by member, each as its bytes come, in the memory of a few of them. The same members give the
 * same bytes on every machine: nothing is pressed, since what a compressor makes differs by its version, and every member
 * has the same time. The file must not be there yet; it is flushed before this returns.
 */
export async function writeZip(
  file: string,
  fill: (add: (name: string, bytes: AsyncIterable<Uint8Array>) => Promise<void>) => Promise<void>,
): Promise<void> {
  const zip = new yazl.ZipFile();
  const written = pipeline(Readable.from(zip.outputStream), createWriteStream(file, { flags: 'wx' }));
  // Told below, by whoever waits.
  written.catch(() => undefined);
  const add = (name: string, bytes: AsyncIterable<Uint8Array>) =>
    new Promise<void>((resolve, reject) => {
      // A disk that is full ends the pipeline, and with it whoever waits to go on.
      written.catch(reject);
      const source = Readable.from(bytes, { objectMode: false });
      source.once('error', reject);
      source.once('close', resolve);
      zip.addReadStream(source, name, {
        compress: false,
        mtime: NO_TIME,
        mode: 0o100644,
        forceDosTimestamp: true,
      });
    });
  try {
    await fill(add);
    zip.end();
  } catch (error) {
    (zip.outputStream as Readable).destroy(error instanceof Error ? error : new Error(String(error)));
    await written.catch(() => undefined);
    throw error;
  }
  await written;
  const handle = await open(file, 'r+');
  await handle.sync().finally(() => handle.close());
}
