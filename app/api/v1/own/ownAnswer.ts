import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { boundedBody } from '@/app/api/runs/boundedBody';
import { jsonObject } from '@/app/api/runs/jsonObject';
import { ALLOWANCE, USE_WINDOW_MS } from '@/lib/access/allowances';
import { bearerOf } from '@/lib/access/personalTokens';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { type GivenAnswer, keyOfHeader, onlyOnce } from '@/lib/registry/accounts/onlyOnce';
import { actorOfToken, BadToken } from '@/lib/registry/accounts/tokenActor';
import type { Registry } from '@/lib/registry/registry';
import { type InputIssue, InvalidInput, NotFound, TooSoon } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { isStorableText } from '@/lib/run/storableText';
import { allowanceHeaders } from '../allowance';
import type { Asked, Operation } from './operation';
import { type FoundOperation, operationAt } from './operations';
import { HttpRefusal, ownProblem } from './ownProblem';

/** Nobody else's, and of no use to a cache. A page of another site reads none of it: there is no word of CORS here. */
const PRIVATE = { 'Cache-Control': 'private, no-store' };

/** All fields of a form, each within its bound, fit several times over. */
const MOST_JSON_BYTES = 512 * 1024;

/** What an account's programs may do, as their answers name it. */
const POLICIES = {
  upload: { name: 'files', quota: ALLOWANCE.upload },
  api: { name: 'requests', quota: ALLOWANCE.api },
};

/** What is around one request: its network's allowance of bad tokens, and the log of refusals. */
interface Around {
  readonly boundStrangers: () => void;
  readonly noteRefusal: (error: unknown) => Promise<void>;
}

/**
 * One request of a program for its tester: who, whether it may, how often; then what was sent, the work, and what is
 * kept of the answer. Nothing here reads a cookie.
 */
export async function ownAnswer(
  registry: Registry,
  request: Request,
  segments: readonly string[],
  around: Around,
): Promise<Response> {
  let allowance: Record<string, string> = {};
  try {
    const found = operationAt(request.method === 'HEAD' ? 'GET' : request.method, segments);
    if (!('operation' in found)) throw notThere(found.allowed);
    const actor = await actorOfToken(
      registry,
      bearerOf(request.headers.get('authorization')),
      found.operation.scope,
    ).catch((error) => {
      // Who has no token is bounded by the network, as readers are.
      if (error instanceof BadToken) around.boundStrangers();
      throw error;
    });
    const thing = found.operation.sent?.kind === 'file' ? 'upload' : 'api';
    const policy = { ...POLICIES[thing], windowS: USE_WINDOW_MS / 1000 };
    // Refused here, nothing is left of it.
    const refusedUse = (error: unknown) => {
      if (error instanceof TooSoon) allowance = allowanceHeaders({ left: 0, resetS: error.waitS }, policy);
      throw error;
    };
    const left = await boundUse(registry, actor, thing).catch(refusedUse);
    allowance = allowanceHeaders(left, policy);
    const answer = await asked(registry, request, found, actor);
    for (const [name, text] of Object.entries(allowance)) answer.headers.set(name, text);
    return answer;
  } catch (error) {
    const refused = ownProblem(error);
    await around.noteRefusal(error);
    for (const [name, text] of Object.entries({ ...PRIVATE, ...allowance })) refused.headers.set(name, text);
    return refused;
  }
}

function notThere(allowed: readonly string[]): Error {
  if (allowed.length === 0) return new NotFound('There is nothing at this address of the interface.');
  const methods = [...allowed, 'OPTIONS'].sort().join(', ');
  return new HttpRefusal(405, 'This address does not take this method.', { Allow: methods });
}

async function asked(
  registry: Registry,
  request: Request,
  { operation, path }: FoundOperation,
  actor: Asked<unknown, unknown>['actor'],
): Promise<Response> {
  const parts = operation.parts.safeParse(path);
  if (!parts.success) throw new NotFound('There is no such run or photo: an id is a UUID.');
  const url = new URL(request.url);
  const query = queryOf(url, operation);
  const version = operation.isOfVersion ? versionOf(request.headers.get('if-match')) : 'any';
  const isWrite = operation.method !== 'GET';
  const key = isWrite ? keyOfHeader(request.headers.get('idempotency-key')) : undefined;
  const bytes = await sentBytes(request, operation);
  const body = bodyOf(bytes, operation);
  const work = async (onceId: string): Promise<GivenAnswer> => {
    const given = { actor, path: parts.data, query, body, bytes, version, onceId } as Asked<never, never>;
    const done = await operation.act(registry, given);
    return {
      status: done.status ?? operation.status,
      body: `${JSON.stringify(operation.answer.parse(done.value))}\n`,
      location: done.location === undefined ? null : `/api/v1${done.location}`,
      etag: done.version === undefined ? null : `"${done.version}"`,
    };
  };
  if (key === undefined) return shown(await work(crypto.randomUUID()));
  const requestHash = createHash('sha256')
    .update(`${url.search}\n${request.headers.get('if-match') ?? ''}\n`)
    .update(bytes)
    .digest('base64url');
  return shown(
    await onlyOnce(registry, actor, { route: `${request.method} ${url.pathname}`, key, requestHash }, work),
  );
}

function shown({ status, body, location, etag }: GivenAnswer): Response {
  return new Response(body, {
    status,
    headers: {
      ...PRIVATE,
      'Content-Type': 'application/json',
      ...(location === null ? {} : { Location: location }),
      ...(etag === null ? {} : { ETag: etag }),
    },
  });
}

/** What the query says; a name that is not described is refused, so that a mistyped one is not taken for none. */
function queryOf({ searchParams }: URL, { query }: Operation): unknown {
  const names = Object.keys(query.shape);
  const unknown = [...searchParams.keys()].filter((name) => !Object.hasOwn(query.shape, name));
  const twice = names.filter((name) => searchParams.getAll(name).length > 1);
  const issues = [
    ...unknown.map((name) =>
      ofQuery(name, 'There is no such part of a query here.', `Use any of: ${names.join(', ') || 'none'}.`),
    ),
    ...twice.map((name) => ofQuery(name, 'It stands there more than once.', 'Send it once.')),
    ...names
      .filter((name) => !isStorableText(searchParams.get(name) ?? ''))
      .map((name) => ofQuery(name, 'It holds a character that cannot be kept.', 'Send it without.')),
  ];
  const given = Object.fromEntries(
    names.flatMap((name) => {
      const value = searchParams.get(name);
      return value === null ? [] : [[name, value]];
    }),
  );
  const parsed = query.safeParse(given);
  for (const { path } of parsed.error?.issues ?? []) {
    const name = String(path[0] ?? '');
    const what = Object.hasOwn(given, name) ? 'It cannot be read.' : 'It is missing.';
    issues.push(ofQuery(name, what, 'See the description of the interface at /api/v1/openapi.json.'));
  }
  if (issues.length > 0) throw new InvalidInput(issues.slice(0, 20));
  return parsed.data;
}

function ofQuery(name: string, what: string, fix: string): InputIssue {
  const path = `query.${name.slice(0, 40)}`;
  return { path, what, why: 'What is not understood would be taken for nothing.', fix };
}

/** RFC 9110, 13.1.1, by the strong comparison; RFC 6585, 3, where the header is missing. */
function versionOf(header: string | null): number | 'any' {
  if (header === null)
    throw new HttpRefusal(
      428,
      'Say which version of the draft you saw: send its ETag as If-Match, so that nothing is written over unseen.',
    );
  if (header.trim() === '*') return 'any';
  const [, version] = /^"(\d{1,9})"$/.exec(header.trim()) ?? [];
  if (version === undefined || version === '0')
    throw new HttpRefusal(
      412,
      'If-Match is none of this draft’s: send the ETag as it came, with its quotes.',
    );
  return Number(version);
}

async function sentBytes(request: Request, { sent }: Operation): Promise<Uint8Array<ArrayBuffer>> {
  if (sent === undefined) return new Uint8Array();
  const type = (request.headers.get('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  if (sent.kind === 'file') {
    if (type.startsWith('multipart/'))
      throw new HttpRefusal(415, 'Send the file itself as the body, not a form around it.');
    const bytes = await boundedBody(request, sent.mostBytes, sent.tooLarge);
    if (bytes.byteLength > 0) return bytes;
    throw new InvalidInput([
      {
        path: 'body',
        what: 'The body is empty.',
        why: 'There is no file to keep.',
        fix: 'Send the file as the body.',
      },
    ]);
  }
  if (type !== 'application/json' && !(sent.isPatch && type === 'application/merge-patch+json'))
    throw new HttpRefusal(415, 'Send the body as JSON, with “Content-Type: application/json”.', {
      Accept: 'application/json',
    });
  return boundedBody(request, MOST_JSON_BYTES, 'The body is larger than any draft can be.');
}

function bodyOf(bytes: Uint8Array, { sent }: Operation): unknown {
  if (sent?.kind !== 'json') return {};
  const value = jsonObject(bytes, 'The description at /api/v1/openapi.json says what is sent here.');
  refuseUnknown(value, sent.schema, '');
  const { fields } = value as { fields?: unknown };
  const ofFields = sent.schema.shape.fields;
  if (typeof fields === 'object' && fields !== null && ofFields !== undefined)
    refuseUnknown(fields, unwrapped(ofFields), 'fields.');
  return parseInput(sent.schema, value);
}

/** Each name that is not described, at its own place; among them names that every object has. */
function refuseUnknown(value: object, schema: z.ZodObject | undefined, within: string): void {
  if (schema === undefined || Array.isArray(value)) return;
  const unknown = Object.keys(value).filter((name) => !Object.hasOwn(schema.shape, name));
  if (unknown.length === 0) return;
  throw new InvalidInput(
    unknown.slice(0, 20).map((name) => ({
      path: `${within}${name.slice(0, 60)}`,
      what: 'There is no such field.',
      why: 'What is not known would be lost.',
      fix: 'Take the names from the description at /api/v1/openapi.json.',
    })),
  );
}

function unwrapped(schema: z.core.$ZodType): z.ZodObject | undefined {
  const inner = 'unwrap' in schema && typeof schema.unwrap === 'function' ? schema.unwrap() : schema;
  return 'shape' in inner ? (inner as z.ZodObject) : undefined;
}
