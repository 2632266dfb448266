import { createInterface } from 'node:readline';
import { Transform, type TransformCallback } from 'node:stream';
import { parse } from 'csv-parse';
import type { OpenZip } from '@/lib/files/zipReader';
import type { Row, Table } from '@/lib/openData/column';
import { pathsOf } from '@/lib/openData/dataPackage';
import { typedRows } from '@/lib/openData/verify/checkTable';
import { Differences } from '@/lib/openData/verify/difference';

/** What is held whole while it is read; a descriptor has a hundred kilobytes or so. */
const MOST_WHOLE = 4 * 1024 * 1024;
/** The longest row has the inputs of a run, some tens of kilobytes. What is longer would be held whole all the same. */
const LONGEST_ROW = 4 * 1024 * 1024;

/** Undefined where it is not in the archive, or too large to be what it should. */
export async function wholeMember(zip: OpenZip, name: string): Promise<Buffer | undefined> {
  const member = zip.members.get(name);
  if (member === undefined || member.bytes > MOST_WHOLE) return undefined;
  const chunks: Buffer[] = [];
  for await (const chunk of await zip.read(name)) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

export async function* rowsOf(
  zip: OpenZip,
  table: Table,
  differences = new Differences(),
): AsyncGenerator<Row> {
  yield* typedRows(table, await recordsOf(zip, table), differences);
}

export async function recordsOf(zip: OpenZip, table: Table): Promise<AsyncIterable<string[]>> {
  const source = await zip.read(pathsOf(table).csv);
  const through = parse({
    record_delimiter: '\r\n',
    relax_column_count: true,
    max_record_size: LONGEST_ROW,
  });
  source.on('error', (error) => through.destroy(error));
  return source.pipe(through) as AsyncIterable<string[]>;
}

export async function linesOf(zip: OpenZip, table: Table): Promise<AsyncIterable<string>> {
  const source = await zip.read(pathsOf(table).jsonLines);
  const through = new BoundedLines();
  source.on('error', (error) => through.destroy(error));
  const lines = createInterface({ input: source.pipe(through), crlfDelay: Number.POSITIVE_INFINITY });
  // Listened to from here on: it begins to read by itself, and lines that nobody waits for are lost.
  const iterator = lines[Symbol.asyncIterator]();
  return { [Symbol.asyncIterator]: () => iterator };
}

/** Passes bytes on until a line of them is too long to hold. */
class BoundedLines extends Transform {
  #length = 0;

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: TransformCallback): void {
    const last = chunk.lastIndexOf(10);
    const first = chunk.indexOf(10);
    const isTooLong = this.#length + (first < 0 ? chunk.length : first) > LONGEST_ROW;
    this.#length = last < 0 ? this.#length + chunk.length : chunk.length - last - 1;
    if (isTooLong) done(new Error(`a line is longer than ${LONGEST_ROW} bytes`));
    else done(null, chunk);
  }
}
