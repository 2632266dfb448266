import { createHash } from 'node:crypto';
import { type WorldKey, worldTitle, worldWords } from '@/lib/run/world';
import { type Column, SOURCES, type Table } from './column';
import type { Licence } from './licences';
import { TABLES } from './tables/allTables';

/** Raised when a table or a column changes: who verifies refuses what it does not know. */
export const FORMAT = 'evenloop snapshot 3';

export const DESCRIPTOR = 'datapackage.json';
export const SIGNATURE = 'signature.json';

/** What a snapshot is of. */
export interface SnapshotAbout {
  world: WorldKey;
  /** When the last entry of the log that is in it was written; ISO 8601 in UTC. */
  asOf: string;
  methodVersion: string;
  /** The engine's own, without what was adopted beside it. */
  engine: string;
  licence: Licence;
}

export interface FileSum {
  bytes: number;
  /** SHA-256 in hexadecimal. */
  sha256: string;
}

export interface TableFiles {
  rows: number;
  csv: FileSum;
  jsonLines: FileSum;
}

/** In the package; a table stands in it twice. */
export function pathsOf({ name }: Table): { csv: string; jsonLines: string } {
  return { csv: `data/${name}.csv`, jsonLines: `data/${name}.jsonl` };
}

/** "evenloop-record-20261127t081500z-1f0c6a52": which record it is of, when, and what is in it. */
export function snapshotName(
  { world, asOf }: Pick<SnapshotAbout, 'world' | 'asOf'>,
  dataSha256: string,
): string {
  const time = asOf
    .replace(/\.\d+Z$/, 'Z')
    .replaceAll(/[-:]/g, '')
    .toLowerCase();
  return `evenloop-${world.replaceAll(':', '-')}-${time}-${dataSha256.slice(0, 8)}`;
}

/**
 * The descriptor of the package by Data Package 1.0 and Table Schema 1.0 (Frictionless), with units and sources beside
 * each field.
 */
export function dataPackage(about: SnapshotAbout, files: ReadonlyMap<string, TableFiles>): object {
  const { world, asOf, methodVersion, engine, licence } = about;
  const isInvented = world === 'demo' ? ' All of it is invented.' : '';
  return {
    profile: 'data-package',
    name: snapshotName(about, dataSha256(files)),
    title: `Evenloop: ${worldTitle(world)}`,
    description:
      `Repeatable consumption runs of electric cars from ${worldWords(world)}: readings, inputs, results, fits and ` +
      `differences, complete enough to compute every number again.${isInvented} People are pseudonyms, and names of ` +
      'models, setups, loops and people are looked up at the registry by their identifiers.',
    created: asOf,
    format: FORMAT,
    world,
    methodVersion,
    engine,
    licenses: [{ name: licence.value, title: licence.title, path: licence.path }],
    resources: TABLES.flatMap((table) => resourcesOf(table, files.get(table.name) as TableFiles)),
  };
}

function resourcesOf(table: Table, { rows, csv, jsonLines }: TableFiles): object[] {
  const paths = pathsOf(table);
  const same = { title: table.title, description: table.says, encoding: 'utf-8', rows };
  return [
    {
      name: table.name,
      profile: 'tabular-data-resource',
      path: paths.csv,
      format: 'csv',
      mediatype: 'text/csv',
      ...same,
      bytes: csv.bytes,
      hash: `sha256:${csv.sha256}`,
      dialect: { delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true, header: true },
      schema: schemaOf(table),
    },
    {
      name: `${table.name}-json-lines`,
      profile: 'data-resource',
      path: paths.jsonLines,
      format: 'jsonl',
      mediatype: 'application/jsonl',
      ...same,
      bytes: jsonLines.bytes,
      hash: `sha256:${jsonLines.sha256}`,
    },
  ];
}

function schemaOf({ columns, key, refersTo }: Table): object {
  const foreignKeys = refersTo.map((reference) => ({
    fields: [...reference.columns],
    reference: { resource: reference.table, fields: [...reference.to] },
  }));
  return {
    fields: columns.map(fieldOf),
    missingValues: [''],
    primaryKey: [...key],
    // by the published schema there is none, or it has one
    ...(foreignKeys.length === 0 ? {} : { foreignKeys }),
  };
}

function fieldOf({ name, type, unit, says, source, isRequired }: Column): object {
  return {
    name,
    type,
    description: says,
    ...(unit === undefined ? {} : { unit }),
    source: SOURCES[source],
    ...(type === 'datetime' ? { format: 'default' } : {}),
    ...(isRequired ? { constraints: { required: true } } : {}),
  };
}

/** Of all tables at once: two snapshots with the same one hold the same rows, whenever they were made. */
export function dataSha256(files: ReadonlyMap<string, TableFiles>): string {
  const hash = createHash('sha256');
  for (const { name } of TABLES) hash.update(`${name} ${files.get(name)?.csv.sha256}\n`);
  return hash.digest('hex');
}
