import { generateKeyPairSync } from 'node:crypto';
import { Package } from 'datapackage';
import { describe, expect, it } from 'vitest';
import { dataPackage, dataSha256, type TableFiles } from '@/lib/openData/dataPackage';
import { LICENCES } from '@/lib/openData/licences';
import { checkSignature, signedDescriptor } from '@/lib/openData/signature';
import { TABLES } from '@/lib/openData/tables/allTables';
import { readDescriptor } from '@/lib/openData/verify/about';

const sum = { bytes: 12, sha256: 'a'.repeat(64) };
const files = new Map<string, TableFiles>(
  TABLES.map(({ name }) => [name, { rows: 3, csv: sum, jsonLines: sum }]),
);
const about = {
  world: 'record',
  asOf: '2026-11-27T08:15:00.123Z',
  methodVersion: '2+priors2',
  engine: '2+priors2',
  licence: LICENCES[0],
} as const;
const text = (descriptor: object) => JSON.stringify(descriptor);

describe('the tables of a snapshot', () => {
  it.each(TABLES.map((table) => [table.name, table] as const))('%s says what each column is', (_, table) => {
    const names = table.columns.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toEqual(expect.arrayContaining([...table.key]));
    for (const { name, type, unit, says, isRequired } of table.columns) {
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
      // one sentence
      expect(says, name).toMatch(/^[A-Z0-9][^\n]*\.$/);
      if (type === 'number') expect(unit, name).toBeDefined();
      if (table.key.includes(name)) expect(isRequired, name).toBe(true);
    }
    const before = TABLES.slice(0, TABLES.indexOf(table)).map(({ name }) => name);
    for (const { columns, table: to, to: its } of table.refersTo) {
      expect(before).toContain(to);
      expect(names).toEqual(expect.arrayContaining([...columns]));
      expect(TABLES.find(({ name }) => name === to)?.key).toEqual([...its]);
    }
  });

  it.each([
    ['_wh_per_km', 'Wh/km'],
    ['_mps', 'm/s'],
    ['_wh', 'Wh'],
    ['_pa', 'Pa'],
    ['_kg', 'kg'],
    ['_deg', 'deg'],
    ['_share', '1'],
    ['_min', 'min'],
  ])('have the unit that a name on %s says', (end, unit) => {
    const named = TABLES.flatMap(({ columns }) => columns).filter(({ name }) => name.endsWith(end));
    expect(named.length).toBeGreaterThan(0);
    for (const column of named) expect(column.unit, column.name).toBe(unit);
  });
});

describe('the descriptor of a snapshot', () => {
  it('is a Data Package by the published schemas, each table with a valid Table Schema', async () => {
    const loaded = await Package.load(dataPackage(about, files), { strict: false, basePath: '.' });
    expect(loaded.errors.map(({ message }) => message)).toEqual([]);
    expect(loaded.valid).toBe(true);
    expect(loaded.resources).toHaveLength(2 * TABLES.length);
    for (const resource of loaded.resources) expect(resource.valid, resource.name).toBe(true);
    for (const { name, columns } of TABLES) {
      const its = loaded.resources.find((resource) => resource.name === name);
      expect(its?.schema.valid, name).toBe(true);
      expect(its?.schema.fieldNames).toEqual(columns.map((column) => column.name));
    }
  });

  it('tells what is wrong of one that is none', async () => {
    const {
      name: _name,
      resources: _resources,
      ...rest
    } = dataPackage(about, files) as Record<string, unknown>;
    expect((await Package.load({ ...rest, resources: [] }, { strict: false, basePath: '.' })).valid).toBe(
      false,
    );
  });

  it('is read as what was written', () => {
    expect(readDescriptor(text(dataPackage(about, files)))).toEqual({
      name: `evenloop-record-20261127t081500z-${dataSha256(files).slice(0, 8)}`,
      about,
      files,
    });
  });

  it.each<[string, (descriptor: Record<string, unknown>) => unknown]>([
    ['a word', (descriptor) => ({ ...descriptor, title: 'Another' })],
    ['a name', (descriptor) => ({ ...descriptor, name: 'another' })],
    ['a thing more', (descriptor) => ({ ...descriptor, note: 'x' })],
    ['another format', (descriptor) => ({ ...descriptor, format: 'evenloop snapshot 0' })],
    [
      'a table less',
      (descriptor) => ({ ...descriptor, resources: (descriptor.resources as unknown[]).slice(2) }),
    ],
    ['another world', (descriptor) => ({ ...descriptor, world: 'demo' })],
  ])('is refused with %s', (_, change) => {
    const changed = change(dataPackage(about, files) as Record<string, unknown>);
    expect(readDescriptor(text(changed as object))).toEqual(expect.any(String));
  });
});

describe('the signature of a snapshot', () => {
  const { privateKey, publicKey } = generateKeyPairSync('ed25519');
  const stranger = generateKeyPairSync('ed25519');
  const descriptor = Buffer.from('{"a":1}');
  const signature = signedDescriptor(descriptor, privateKey);

  it('is of its descriptor and of its key alone', () => {
    expect(checkSignature(signature, descriptor, [])).toMatchObject({ ok: true });
    expect(checkSignature(signature, descriptor, [stranger.publicKey, publicKey])).toMatchObject({
      ok: true,
    });
    expect(checkSignature(signature, Buffer.from('{"a":2}'), [])).toMatchObject({ ok: false });
    expect(checkSignature(signature, descriptor, [stranger.publicKey])).toMatchObject({ ok: false });
    expect(checkSignature('{}', descriptor, [])).toMatchObject({ ok: false });
  });

  it('does not take another key’s name', () => {
    const forged = JSON.parse(signedDescriptor(descriptor, stranger.privateKey));
    const { keyId } = JSON.parse(signature);
    expect(checkSignature(JSON.stringify({ ...forged, keyId }), descriptor, [])).toMatchObject({ ok: false });
  });

  it('is the same each time (RFC 8032)', () => {
    expect(signedDescriptor(descriptor, privateKey)).toBe(signature);
  });
});
