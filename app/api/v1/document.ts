import { z } from 'zod';
import { createDocument, type ZodOpenApiOperationObject } from 'zod-openapi';
import { READS_A_WINDOW, WINDOW_S } from './allowance';
import type { Resource } from './resource';
import { RESOURCES } from './resources';

/** RFC 9457, with our own list of what is wrong where. */
const problem = z
  .object({
    type: z.string(),
    status: z.int(),
    title: z.string().meta({ description: 'What is the matter, in a sentence' }),
    issues: z.array(
      z.object({
        path: z.string().meta({ description: 'Part of the query or address' }),
        what: z.string(),
        why: z.string(),
        fix: z.string(),
      }),
    ),
  })
  .meta({ id: 'Problem' });

const refused = (description: string) => ({
  description,
  content: { 'application/problem+json': { schema: problem } },
});

const tagged = z.string().meta({ description: 'Of this answer; send it back in If-None-Match' });

function operation({ id, summary, parts, query, answer, list }: Resource): ZodOpenApiOperationObject {
  const hasParts = Object.keys(parts.shape).length > 0;
  return {
    operationId: id,
    summary,
    requestParams: {
      ...(hasParts ? { path: parts } : {}),
      ...(Object.keys(query.shape).length > 0 ? { query } : {}),
    },
    responses: {
      '200': {
        description: summary,
        headers: z.object({ ETag: tagged }),
        content: {
          'application/json': { schema: answer },
          ...(list === undefined
            ? {}
            : {
                'text/csv': {
                  schema: z.string().meta({ description: `“${list}” alone, a column for every value` }),
                },
              }),
        },
      },
      '304': { description: 'Nothing changed since the answer whose tag was sent' },
      '404': refused('There is no such thing'),
      '406': refused('Not to be had in the form that Accept asks for'),
      '422': refused('The query cannot be read'),
      '429': refused('Too many reads; Retry-After says how long to wait'),
    },
  };
}

/** The interface by OpenAPI 3.1, made from the schemas that its answers are parsed by. */
export function apiDocument(server: string) {
  return createDocument({
    openapi: '3.1.0',
    info: {
      title: 'Evenloop, read interface',
      version: '1',
      description: `Every published number of this registry. Energies per distance are in Wh/km, speeds in m/s, shares from 0 to 1. An interval is one of 95 % unless it says otherwise. Results are estimates under stated conditions, never a promise of range. Lists come in pages: send the cursor of \`next\` as \`from\`. ${READS_A_WINDOW} reads in ${WINDOW_S / 60} minutes for one network.`,
      license: { name: 'As the steward chose', url: new URL('/data#licence', server).href },
    },
    servers: [{ url: server }],
    security: [],
    paths: Object.fromEntries(RESOURCES.map((resource) => [resource.path, { get: operation(resource) }])),
  });
}
