import { z } from 'zod';
import { createDocument, type ZodOpenApiOperationObject } from 'zod-openapi';
import { READS_A_WINDOW, WINDOW_S } from './allowance';
import type { Operation } from './own/operation';
import { OPERATIONS } from './own/operations';
import { fault } from './own/ownShapes';
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

/** RFC 9457, with each fault at its place. */
const ownProblem = z
  .object({
    type: z.string(),
    status: z.int(),
    title: z.string().meta({ description: 'What is the matter, in a sentence' }),
    errors: z.array(fault),
  })
  .meta({ id: 'OwnProblem' });

const ownRefused = (description: string) => ({
  description,
  content: { 'application/problem+json': { schema: ownProblem } },
});

const tagOfDraft = z.string().meta({ description: 'Version of the draft; send it back as If-Match' });
const address = z.string().meta({ description: 'Where it is read' });

const ifMatch = z.string().meta({
  description: 'ETag of the draft that you saw, or * for whatever it is by now',
  examples: ['"3"'],
});
const onceKey = z
  .string()
  .max(102)
  .meta({
    description:
      'Your own key for this one thing: sent again under it within 24 hours, it is answered as it was and not done twice',
    examples: ['5c2b3f0e-9a41-4a0e-8f0a-1d7b6a2f9c11'],
  });

function bodyOf({ sent }: Operation): Pick<ZodOpenApiOperationObject, 'requestBody'> {
  if (sent === undefined) return {};
  const content =
    sent.kind === 'json'
      ? Object.fromEntries(
          ['application/json', ...(sent.isPatch ? ['application/merge-patch+json'] : [])].map((type) => [
            type,
            { schema: sent.schema },
          ]),
        )
      : Object.fromEntries(
          sent.types.map((type) => [type, { schema: { type: 'string' as const, format: 'binary' } }]),
        );
  return { requestBody: { required: true, content } };
}

function ownOperation(one: Operation): ZodOpenApiOperationObject {
  const { id, summary, scope, parts, query, isOfVersion, isTagged, status, answer, method, sent } = one;
  const header = {
    ...(isOfVersion ? { 'If-Match': ifMatch } : {}),
    ...(method === 'GET' ? {} : { 'Idempotency-Key': onceKey.optional() }),
  };
  const headers = {
    ...(isTagged ? { ETag: tagOfDraft } : {}),
    ...(method === 'POST' && sent?.kind === 'json' ? { Location: address } : {}),
  };
  const done = {
    description: summary,
    ...(Object.keys(headers).length === 0 ? {} : { headers: z.object(headers) }),
    content: { 'application/json': { schema: answer } },
  };
  return {
    operationId: id,
    summary,
    description: `Needs a token with “${scope}”.`,
    security: [{ personalToken: [] }],
    requestParams: {
      ...(Object.keys(parts.shape).length > 0 ? { path: parts } : {}),
      ...(Object.keys(query.shape).length > 0 ? { query } : {}),
      ...(Object.keys(header).length > 0 ? { header: z.object(header) } : {}),
    },
    ...bodyOf(one),
    responses: {
      [`${status}`]: done,
      ...(id === 'putRecording' ? { '201': { ...done, description: `${summary}; it is a new one` } } : {}),
      '401': ownRefused('No token, or none that works; WWW-Authenticate says which'),
      '403': ownRefused('The token may not do this, the run is another’s, or the account is suspended'),
      '404': ownRefused('There is no such thing'),
      ...(method === 'GET' ? {} : { '409': ownRefused('Not as things stand, or the same is being done') }),
      ...(isOfVersion
        ? {
            '412': ownRefused('The draft was changed since it was read'),
            '428': ownRefused('If-Match is missing'),
          }
        : {}),
      ...(sent === undefined
        ? {}
        : { '413': ownRefused('Too large'), '415': ownRefused('Not sent in a form that is read here') }),
      '422': ownRefused('Something of it is wrong: each fault with its place'),
      '429': ownRefused('Too much at once; Retry-After says how long to wait'),
    },
  };
}

function ownPaths(): Record<string, Record<string, ZodOpenApiOperationObject>> {
  const paths = new Map<string, Record<string, ZodOpenApiOperationObject>>();
  for (const one of OPERATIONS)
    paths.set(one.path, { ...paths.get(one.path), [one.method.toLowerCase()]: ownOperation(one) });
  return Object.fromEntries(paths);
}

/** The interface by OpenAPI 3.1, made from the schemas that its answers are parsed by. */
export function apiDocument(server: string) {
  return createDocument({
    openapi: '3.1.0',
    info: {
      title: 'Evenloop, interface for programs',
      version: '1',
      description: `Every published number of this registry. Energies per distance are in Wh/km, speeds in m/s, shares from 0 to 1. An interval is one of 95 % unless it says otherwise. Results are estimates under stated conditions, never a promise of range. Lists come in pages: send the cursor of \`next\` as \`from\`. ${READS_A_WINDOW} reads in ${WINDOW_S / 60} minutes for one network. What is below /own is for a tester's programs, by a token that the tester makes.`,
      license: { name: 'As the steward chose', url: new URL('/data#licence', server).href },
    },
    servers: [{ url: server }],
    security: [],
    components: {
      securitySchemes: {
        personalToken: {
          type: 'http',
          scheme: 'bearer',
          description: 'Made on the page of tokens of an account. Sent as a header, never in an address.',
        },
      },
    },
    paths: {
      ...Object.fromEntries(RESOURCES.map((resource) => [resource.path, { get: operation(resource) }])),
      ...ownPaths(),
    },
  });
}
