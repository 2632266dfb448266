import type { Readable } from 'node:stream';
import yauzl from 'yauzl';

export interface ZipMember {
  name: string;
  bytes: number;
}

export interface OpenZip {
  members: ReadonlyMap<string, ZipMember>;
  /** The bytes of a member; an error where they are not as many as the archive says. */
  read: (name: string) => Promise<Readable>;
  close: () => void;
}

/** A zip archive, its members read in any order. Throws where it is none, or one name stands in it twice. */
export async function openZip(file: string): Promise<OpenZip> {
  const zip = await new Promise<yauzl.ZipFile>((resolve, reject) => {
    yauzl.open(file, { lazyEntries: true, autoClose: false, strictFileNames: true }, (error, opened) =>
      error ? reject(error) : resolve(opened as yauzl.ZipFile),
    );
  });
  const entries = new Map<string, yauzl.Entry>();
  try {
    await new Promise<void>((resolve, reject) => {
      zip.on('error', reject);
      zip.on('end', resolve);
      zip.on('entry', (entry: yauzl.Entry) => {
        if (entries.has(entry.fileName)) return reject(new Error(`${entry.fileName} stands in it twice`));
        entries.set(entry.fileName, entry);
        zip.readEntry();
      });
      zip.readEntry();
    });
  } catch (error) {
    zip.close();
    throw error;
  }
  return {
    members: new Map([...entries].map(([name, { uncompressedSize: bytes }]) => [name, { name, bytes }])),
    read: (name) =>
      new Promise((resolve, reject) => {
        const entry = entries.get(name);
        if (entry === undefined) return reject(new Error(`${name} is not in it`));
        zip.openReadStream(entry, (error, stream) => (error ? reject(error) : resolve(stream as Readable)));
      }),
    close: () => zip.close(),
  };
}
