import { createConfig, lintFromString, stringifyYaml } from '@redocly/openapi-core';
import openapiTS, { astToString } from 'openapi-typescript';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { apiDocument } from '@/app/api/v1/document';
import { OPERATIONS } from '@/app/api/v1/own/operations';
import { RESOURCES } from '@/app/api/v1/resources';

const document = apiDocument('https://registry.example/api/v1');

describe('the description of the interface', () => {
  it('is OpenAPI 3.1 by a linter that is not ours, without an error', async () => {
    const config = await createConfig({ extends: ['recommended'] });
    const problems = await lintFromString({
      source: stringifyYaml(document),
      absoluteRef: 'openapi.yaml',
      config,
    });
    expect(problems.map(({ ruleId, message, location }) => [ruleId, message, location[0]?.pointer])).toEqual(
      [],
    );
  });

  it('is found faulty by the same linter where it is', async () => {
    const config = await createConfig({ extends: ['recommended'] });
    const broken = structuredClone(document) as { paths: Record<string, { get?: { responses?: unknown } }> };
    delete broken.paths['/rankings']?.get?.responses;
    const problems = await lintFromString({
      source: stringifyYaml(broken),
      absoluteRef: 'openapi.yaml',
      config,
    });
    expect(problems.length).toBeGreaterThan(0);
  });

  it('has each address once, every part and every value of an answer described', () => {
    const all = [...RESOURCES, ...OPERATIONS];
    expect(Object.keys(document.paths ?? {}).sort()).toEqual(
      [...new Set(all.map(({ path }) => path))].sort(),
    );
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const { path, parts, query } of all) {
      const inBraces = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      expect(Object.keys(parts.shape)).toEqual(inBraces);
      for (const [name, schema] of Object.entries({ ...parts.shape, ...query.shape }))
        expect(z.toJSONSchema(schema).description, `${path} ${name}`).toBeTruthy();
    }
  });

  it('gives a client with types, by a generator that is not ours, the one that the tests read with', async () => {
    const generated = astToString(await openapiTS(JSON.parse(JSON.stringify(document))));
    await expect(generated).toMatchFileSnapshot('../../helpers/apiTypes.ts');
  });
});
