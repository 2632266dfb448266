import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { isWorldKey } from '@/lib/run/world';
import {
  dataPackage,
  type FileSum,
  FORMAT,
  pathsOf,
  type SnapshotAbout,
  type TableFiles,
} from '../dataPackage';
import { LICENCES, licenceOf } from '../licences';
import { TABLES } from '../tables/allTables';

const HASH = /^sha256:([0-9a-f]{64})$/;

const descriptorSchema = z.object({
  name: z.string(),
  created: z.iso.datetime(),
  format: z.string(),
  world: z.string().refine(isWorldKey),
  methodVersion: z.string(),
  engine: z.string(),
  licenses: z.tuple([z.object({ name: z.enum(LICENCES.map(({ value }) => value)) })]),
  resources: z.array(
    z.object({ path: z.string(), bytes: z.int().min(0), hash: z.string().regex(HASH), rows: z.int().min(0) }),
  ),
});

export interface ReadDescriptor {
  name: string;
  about: SnapshotAbout;
  files: ReadonlyMap<string, TableFiles>;
}

/**
 * The descriptor of a package, held against the one that this program would write for the same files: its schemas, units
 * and sentences are those of the tables that are known here, or it is none that can be verified.
 */
export function readDescriptor(text: string): ReadDescriptor | string {
  const stored = jsonOf(text);
  const parsed = descriptorSchema.safeParse(stored);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return `it is no descriptor of a snapshot (${issue?.path.join('.')}: ${issue?.message})`;
  }
  const { name, created, format, world, methodVersion, engine, licenses, resources } = parsed.data;
  if (format !== FORMAT) return `it is of the format “${format}”, and this program verifies “${FORMAT}”`;
  const byPath = new Map(resources.map((resource) => [resource.path, resource]));
  const files = new Map<string, TableFiles>();
  for (const table of TABLES) {
    const paths = pathsOf(table);
    const [csv, jsonLines] = [byPath.get(paths.csv), byPath.get(paths.jsonLines)];
    if (csv === undefined || jsonLines === undefined) return `it does not name the files of ${table.name}`;
    files.set(table.name, { rows: csv.rows, csv: sumOf(csv), jsonLines: sumOf(jsonLines) });
  }
  const about: SnapshotAbout = {
    world: world as SnapshotAbout['world'],
    asOf: created,
    methodVersion,
    engine,
    licence: licenceOf(licenses[0].name),
  };
  if (!isDeepStrictEqual(stored, JSON.parse(JSON.stringify(dataPackage(about, files)))))
    return 'its name, schemas or words are not those of this format';
  return { name, about, files };
}

function sumOf({ bytes, hash }: { bytes: number; hash: string }): FileSum {
  return { bytes, sha256: HASH.exec(hash)?.[1] as string };
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
