import { createHash, type KeyObject } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { openZip } from '@/lib/files/zipReader';
import { writeZip } from '@/lib/files/zipWriter';
import { cellValue, csvHeader, csvRow, jsonLine } from '@/lib/openData/cells';
import type { Row, Table } from '@/lib/openData/column';
import { DESCRIPTOR, dataPackage, pathsOf, SIGNATURE, type TableFiles } from '@/lib/openData/dataPackage';
import { signedDescriptor } from '@/lib/openData/signature';
import { TABLES } from '@/lib/openData/tables/allTables';
import { readDescriptor } from '@/lib/openData/verify/about';

/** A snapshot taken apart: its members by name, in their order. */
export type Members = ReadonlyMap<string, Buffer>;

export async function membersOf(file: string): Promise<Members> {
  const zip = await openZip(file);
  const members = new Map<string, Buffer>();
  for (const name of zip.members.keys()) {
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.read(name)) chunks.push(chunk as Buffer);
    members.set(name, Buffer.concat(chunks));
  }
  zip.close();
  return members;
}

export function rowsOf(members: Members, table: Table): Row[] {
  const [, ...records] = parse(members.get(pathsOf(table).csv) as Buffer, { record_delimiter: '\r\n' });
  return records.map((record) =>
    Object.fromEntries(
      table.columns.map((column, at) => [column.name, cellValue(column, record[at] as string)]),
    ),
  );
}

/** The two files of a table. */
export function filesOf(table: Table, rows: readonly Row[]): Members {
  const paths = pathsOf(table);
  return new Map([
    [paths.csv, Buffer.from(csvHeader(table) + rows.map((row) => csvRow(table, row)).join(''))],
    [paths.jsonLines, Buffer.from(rows.map((row) => jsonLine(table, row)).join(''))],
  ]);
}

export async function writeMembers(members: Members, file: string): Promise<void> {
  await writeZip(file, async (add) => {
    for (const [name, bytes] of members) await add(name, once(bytes));
  });
}

async function* once(bytes: Buffer): AsyncGenerator<Buffer> {
  yield bytes;
}

/**
 * As whoever forges one would do it: digests, descriptor and signature fit what is in it now, and the day where another
 * one is given.
 */
export function signedAnew(members: Members, key: KeyObject, asOf?: string): Members {
  const read = readDescriptor((members.get(DESCRIPTOR) as Buffer).toString('utf8'));
  if (typeof read === 'string') throw new Error(read);
  const files = new Map<string, TableFiles>(
    TABLES.map((table) => {
      const paths = pathsOf(table);
      const [csv, jsonLines] = [paths.csv, paths.jsonLines].map((path) => sumOf(members.get(path) as Buffer));
      return [table.name, { rows: rowsOf(members, table).length, csv, jsonLines } as TableFiles];
    }),
  );
  const descriptor = Buffer.from(
    `${JSON.stringify(dataPackage({ ...read.about, ...(asOf && { asOf }) }, files), null, 1)}\n`,
  );
  return new Map([
    ...members,
    [DESCRIPTOR, descriptor],
    [SIGNATURE, Buffer.from(signedDescriptor(descriptor, key))],
  ]);
}

function sumOf(bytes: Buffer) {
  return { bytes: bytes.byteLength, sha256: createHash('sha256').update(bytes).digest('hex') };
}
