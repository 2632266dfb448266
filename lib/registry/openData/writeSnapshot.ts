import { createHash, type KeyObject } from 'node:crypto';
import { rename, rm, stat } from 'node:fs/promises';
import pg from 'pg';
import { sha256OfFile } from '@/lib/files/fileDigest';
import { writeZip } from '@/lib/files/zipWriter';
import { csvHeader, csvRow, jsonLine } from '@/lib/openData/cells';
import type { Row, Table } from '@/lib/openData/column';
import {
  DESCRIPTOR,
  dataPackage,
  dataSha256,
  type FileSum,
  pathsOf,
  SIGNATURE,
  type SnapshotAbout,
  snapshotName,
  type TableFiles,
} from '@/lib/openData/dataPackage';
import type { Licence } from '@/lib/openData/licences';
import { signedDescriptor } from '@/lib/openData/signature';
import { TABLES } from '@/lib/openData/tables/allTables';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import type { Method } from '@/lib/reduction/reduceRun';
import { type WorldKey, worldWords } from '@/lib/run/world';
import { readFitBasis, readFitSummary } from '@/lib/stats/stored';
import { countedByClass, isBeingComputed, keptFits, lastEntryAt, shownVersion } from '@/lib/store/openData';
import { rowsOf, type Seen } from './snapshotRows';

export interface SnapshotSource {
  connection: pg.ClientConfig;
  world: WorldKey;
  /** In effect in that world. */
  method: Method;
  licence: Licence;
  privateKey: KeyObject;
}

export interface WrittenSnapshot {
  name: string;
  about: SnapshotAbout;
  sizeBytes: number;
  /** Of the whole file. */
  sha256: string;
  dataSha256: string;
  rows: Record<string, number>;
}

/** What is published does not hang together at this moment: a fit or a recomputation is on its way, or failed. */
export class NotSettled extends Error {
  override readonly name = 'NotSettled';
}

/**
 * Writes everything of a world that is public into one file, as it was at one moment, while others write. The file
 * appears whole or not at all; the same record gives the same bytes.
 */
export async function writeSnapshot(source: SnapshotSource, file: string): Promise<WrittenSnapshot> {
  const unfinished = `${file}.unfinished`;
  const client = new pg.Client({ ...source.connection, application_name: 'evenloop snapshot' });
  await client.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    const about = await aboutNow(client, source);
    const seen = { client, world: source.world, method: source.method };
    const files = new Map<string, TableFiles>();
    await rm(unfinished, { force: true });
    await writeZip(unfinished, async (add) => {
      for (const table of TABLES) files.set(table.name, await addTable(table, seen, add));
      const descriptor = Buffer.from(`${JSON.stringify(dataPackage(about, files), null, 1)}\n`);
      await add(DESCRIPTOR, whole(descriptor));
      await add(SIGNATURE, whole(Buffer.from(signedDescriptor(descriptor, source.privateKey))));
    });
    await client.query('COMMIT');
    const { size: sizeBytes } = await stat(unfinished);
    const digest = dataSha256(files);
    const written = {
      name: snapshotName(about, digest),
      about,
      sizeBytes,
      sha256: await sha256OfFile(unfinished),
      dataSha256: digest,
      rows: Object.fromEntries([...files].map(([name, { rows }]) => [name, rows])),
    };
    await rename(unfinished, file);
    return written;
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  } finally {
    await client.end();
  }
}

/** What the snapshot is of; throws `NotSettled` where the fits are not of the runs that count now. */
async function aboutNow(
  client: pg.ClientBase,
  { world, method, licence }: SnapshotSource,
): Promise<SnapshotAbout> {
  const shown = await shownVersion(client, world);
  const asOf = await lastEntryAt(client);
  if (shown === undefined || asOf === undefined)
    throw new NotSettled(`No run of ${worldWords(world)} counts yet.`);
  if (shown !== method.label || (await isBeingComputed(client, world)))
    throw new NotSettled(`Numbers of ${worldWords(world)} are being computed anew.`);
  const counted = await countedByClass(client, world, method.label);
  const fits = await keptFits(client, world);
  for (const { cruiseClassKey, methodVersion, ...kept } of fits) {
    const summary = readFitSummary(kept.summary);
    const isOfNow =
      summary !== undefined &&
      readFitBasis(kept.basis) !== undefined &&
      methodVersion === method.label &&
      summary.nIn + summary.notNormalised === (counted.get(cruiseClassKey) ?? 0);
    if (!isOfNow) throw new NotSettled(`The fit of ${cruiseClassKey} is not of the runs that count now.`);
    counted.delete(cruiseClassKey);
  }
  const [unfitted] = counted.keys();
  if (unfitted !== undefined) throw new NotSettled(`The class ${unfitted} has runs but no fit.`);
  return { world, asOf, methodVersion: method.label, engine: METHOD_VERSION, licence };
}

type Add = (name: string, bytes: AsyncIterable<Uint8Array>) => Promise<void>;

/** Read twice, once a format: holding a table for the second one would cost its memory, and the moment is the same. */
async function addTable(table: Table, seen: Seen, add: Add): Promise<TableFiles> {
  const paths = pathsOf(table);
  const csv = new Summed();
  await add(paths.csv, csv.of(lines(rowsOf(table, seen), (row) => csvRow(table, row), csvHeader(table))));
  const jsonLines = new Summed();
  let rows = 0;
  const line = (row: Row) => {
    rows += 1;
    return jsonLine(table, row);
  };
  await add(paths.jsonLines, jsonLines.of(lines(rowsOf(table, seen), line)));
  return { rows, csv: csv.sum(), jsonLines: jsonLines.sum() };
}

/** What is handed on at a time. */
const CHUNK_CHARACTERS = 64 * 1024;

async function* lines(
  rows: AsyncIterable<Row> | Iterable<Row>,
  lineOf: (row: Row) => string,
  header = '',
): AsyncGenerator<Buffer> {
  let text = header;
  for await (const row of rows) {
    text += lineOf(row);
    if (text.length < CHUNK_CHARACTERS) continue;
    yield Buffer.from(text);
    text = '';
  }
  if (text !== '') yield Buffer.from(text);
}

async function* whole(bytes: Buffer): AsyncGenerator<Buffer> {
  yield bytes;
}

/** Passes bytes on, and knows how many they were and their digest. */
class Summed {
  readonly #hash = createHash('sha256');
  #bytes = 0;

  async *of(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
    for await (const chunk of chunks) {
      this.#hash.update(chunk);
      this.#bytes += chunk.byteLength;
      yield chunk;
    }
  }

  sum(): FileSum {
    return { bytes: this.#bytes, sha256: this.#hash.digest('hex') };
  }
}
