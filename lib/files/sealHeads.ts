import { createReadStream } from 'node:fs';
import { mkdir, open, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { type Seal, sealLine, sealOfLine } from '@/lib/trail/seal';

/** The name of the file in the data folder. */
export const SEAL_HEADS_FILE = 'audit-heads.jsonl';

export function headsIn(dataFolder: string): SealHeads {
  return sealHeads(join(dataFolder, SEAL_HEADS_FILE));
}

/**
 * The heads of the audit log outside the database: one seal a line, only ever appended to. Whoever owns the tables may
 * rewrite them; what was sealed stays here.
 */
export interface SealHeads {
  readonly file: string;
  /** The last whole line; undefined where there is none. */
  last(): Promise<Seal | undefined>;
  append(seal: Seal): Promise<void>;
  /** Every seal up to a size of the file, taken before the database is read; a line that holds none is undefined. */
  read(upToBytes?: number): AsyncGenerator<Seal | undefined>;
  bytes(): Promise<number>;
}

export function sealHeads(file: string): SealHeads {
  async function bytes(): Promise<number> {
    return (await stat(file).catch(nullWhenAbsent))?.size ?? 0;
  }

  async function* read(upToBytes?: number): AsyncGenerator<Seal | undefined> {
    const end = upToBytes ?? (await bytes());
    if (end === 0) return;
    const lines = createInterface({
      input: createReadStream(file, { end: end - 1 }),
      crlfDelay: Number.POSITIVE_INFINITY,
    });
    // An empty line is what a crash in mid-append leaves behind once the next append has ended it.
    for await (const line of lines) if (line !== '') yield sealOfLine(line);
  }

  return {
    file,
    bytes,
    read,

    async last() {
      let found: Seal | undefined;
      for await (const seal of read()) if (seal !== undefined) found = seal;
      return found;
    },

    async append(seal) {
      await mkdir(dirname(file), { recursive: true, mode: 0o700 });
      const handle = await open(file, 'a+', 0o600);
      try {
        // What a crash left half-written stays a line of its own, which readers tell as such.
        const { size } = await handle.stat();
        const isWhole = size === 0 || (await lastByte(handle, size)) === NEWLINE;
        await handle.appendFile(`${isWhole ? '' : '\n'}${sealLine(seal)}\n`);
        await handle.sync();
      } finally {
        await handle.close();
      }
    },
  };
}

const NEWLINE = 0x0a;

async function lastByte(handle: Awaited<ReturnType<typeof open>>, size: number): Promise<number | undefined> {
  const { buffer } = await handle.read(Buffer.alloc(1), 0, 1, size - 1);
  return buffer[0];
}

function nullWhenAbsent(error: NodeJS.ErrnoException): null {
  if (error.code === 'ENOENT') return null;
  throw error;
}
