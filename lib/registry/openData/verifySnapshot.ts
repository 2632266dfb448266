import type { KeyObject } from 'node:crypto';
import { sha256OfStream } from '@/lib/files/fileDigest';
import { type OpenZip, openZip } from '@/lib/files/zipReader';
import type { Row, Table } from '@/lib/openData/column';
import { DESCRIPTOR, pathsOf, SIGNATURE } from '@/lib/openData/dataPackage';
import { checkSignature } from '@/lib/openData/signature';
import { TABLES } from '@/lib/openData/tables/allTables';
import { ROAD_LOADS } from '@/lib/openData/tables/thingTables';
import { type ReadDescriptor, readDescriptor } from '@/lib/openData/verify/about';
import { checkFits } from '@/lib/openData/verify/checkFits';
import { checkRuns } from '@/lib/openData/verify/checkRuns';
import { checkTable, type KnownKeys } from '@/lib/openData/verify/checkTable';
import { type Difference, Differences } from '@/lib/openData/verify/difference';
import { methodOf } from '@/lib/openData/verify/methodOf';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { linesOf, recordsOf, rowsOf, wholeMember } from './zipMembers';

export interface Verification {
  /** Undefined where not even the descriptor can be read. */
  name?: string;
  keyId?: string;
  world?: string;
  rows: number;
  runs: number;
  differences: readonly Difference[];
  /** How many there are; more than are told where there are very many. */
  count: number;
  /** Why the numbers were not computed again: something before them is wrong, or another engine made them. */
  notRecomputed?: string;
}

interface VerifyOptions {
  trusted?: readonly KeyObject[];
  mayBeUnsigned?: boolean;
  /** Told of each run that was computed again, of so many. */
  onRun?: (done: number, of: number) => void;
}

/**
 * Verifies a snapshot without a database, from the outside in: members, signature, digests; schemas and keys; and, where
 * all that holds, every result, fit, estimate, rank set and difference computed again.
 */
export async function verifySnapshot(
  file: string,
  { trusted = [], mayBeUnsigned = false, onRun }: VerifyOptions = {},
): Promise<Verification> {
  const differences = new Differences();
  const told = { differences: differences.told, rows: 0, runs: 0 };
  const broken = (notRecomputed: string): Verification => ({
    ...told,
    count: differences.count,
    notRecomputed,
  });
  let zip: OpenZip;
  try {
    zip = await openZip(file);
  } catch (error) {
    differences.add(file, '', '', `it is no zip archive: ${error instanceof Error ? error.message : error}`);
    return broken('it cannot be read');
  }
  try {
    const descriptorBytes = await wholeMember(zip, DESCRIPTOR);
    const signature = await wholeMember(zip, SIGNATURE);
    if (descriptorBytes === undefined || signature === undefined) {
      differences.add(file, '', '', `${DESCRIPTOR} or ${SIGNATURE} is not in it, or too large`);
      return broken('it is no snapshot');
    }
    const signed = checkSignature(signature.toString('utf8'), descriptorBytes, trusted);
    if (!signed.ok && !mayBeUnsigned) differences.add(SIGNATURE, '', '', signed.reason);
    const descriptor = readDescriptor(descriptorBytes.toString('utf8'));
    if (typeof descriptor === 'string') {
      differences.add(DESCRIPTOR, '', '', descriptor);
      return broken('it is no snapshot');
    }
    const about = {
      name: descriptor.name,
      world: descriptor.about.world,
      ...(signed.ok ? { keyId: signed.keyId } : {}),
    };
    await checkMembers(zip, descriptor, differences);
    if (differences.count > 0) return { ...about, ...broken('the files are not those that were signed') };
    const { rows, runs } = await checkTables(zip, descriptor, differences);
    const counts = { ...about, rows, runs, differences: differences.told };
    const { engine, methodVersion } = descriptor.about;
    if (differences.count > 0)
      return { ...counts, count: differences.count, notRecomputed: 'the tables do not hold together' };
    if (engine !== METHOD_VERSION)
      return {
        ...counts,
        count: 0,
        notRecomputed: `they were made by version ${engine} of the method, and this program has ${METHOD_VERSION}`,
      };
    await recompute(zip, methodVersion, differences, (done) => onRun?.(done, runs));
    return { ...counts, count: differences.count };
  } finally {
    zip.close();
  }
}

/** The members are those that the descriptor names and no others, each with the bytes that it says. */
async function checkMembers(
  zip: OpenZip,
  { files }: ReadDescriptor,
  differences: Differences,
): Promise<void> {
  const expected = new Map(
    TABLES.flatMap((table) => {
      const paths = pathsOf(table);
      const its = files.get(table.name);
      return its === undefined
        ? []
        : [[paths.csv, its.csv] as const, [paths.jsonLines, its.jsonLines] as const];
    }),
  );
  for (const name of zip.members.keys())
    if (!expected.has(name) && name !== DESCRIPTOR && name !== SIGNATURE)
      differences.add(name, '', '', 'nothing says what this file is');
  for (const [name, { bytes, sha256 }] of expected) {
    const member = zip.members.get(name);
    if (member === undefined) differences.add(name, '', '', 'the file is not there');
    else if (member.bytes !== bytes || (await sha256OfMember(zip, name)) !== sha256)
      differences.add(name, '', '', 'the bytes are not those that were signed (SHA-256)');
  }
}

async function sha256OfMember(zip: OpenZip, name: string): Promise<string | undefined> {
  try {
    return await sha256OfStream(await zip.read(name));
  } catch {
    return undefined;
  }
}

async function checkTables(
  zip: OpenZip,
  { files }: ReadDescriptor,
  differences: Differences,
): Promise<{ rows: number; runs: number }> {
  const known: KnownKeys = new Map();
  const references = TABLES.flatMap((table) => table.refersTo);
  const counts = new Map<string, number>();
  for (const table of TABLES) {
    const referred = references.filter((reference) => reference.table === table.name);
    const its = { csv: await recordsOf(zip, table), jsonLines: await linesOf(zip, table) };
    const rows = await checkTable(table, its, { referred, known }, differences);
    counts.set(table.name, rows);
    if (rows !== files.get(table.name)?.rows)
      differences.add(
        table.name,
        '',
        '',
        `${rows} rows are there, ${files.get(table.name)?.rows} are stated`,
      );
  }
  return { rows: [...counts.values()].reduce((sum, rows) => sum + rows, 0), runs: counts.get('runs') ?? 0 };
}

async function recompute(
  zip: OpenZip,
  methodVersion: string,
  differences: Differences,
  onRun: (done: number) => void,
): Promise<void> {
  const read = (table: Table): AsyncIterable<Row> => rowsOf(zip, table, differences);
  const roadLoads: Row[] = [];
  for await (const row of read(ROAD_LOADS)) roadLoads.push(row);
  const method = methodOf(methodVersion, roadLoads);
  if (method === undefined) {
    differences.add(ROAD_LOADS.name, '', '', 'an adopted road load cannot be read');
    return;
  }
  await checkFits(read, await checkRuns(read, method, differences, onRun), methodVersion, differences);
}
