import Negotiator from 'negotiator';
import { entityTag, isKnownTag } from '@/app/visitor/entityTag';
import { problemResponse } from '@/app/visitor/problem';
import type { Registry } from '@/lib/registry/registry';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { isStorableText } from '@/lib/run/storableText';
import { type Allowance, allowanceHeaders } from './allowance';
import { listCsv } from './listCsv';
import type { Resource } from './resource';
import { type Found, resourceAt } from './resources';

const JSON_TYPE = 'application/json';
const CSV_TYPE = 'text/csv';

/** Anybody's page may read what is public (Fetch, CORS protocol); nothing here looks at who asks. */
const READABLE_BY_ALL = {
  'Access-Control-Allow-Origin': '*',
  'Access-Control-Expose-Headers': 'ETag, Link, RateLimit, RateLimit-Policy, Retry-After',
  // shown by the resource alone, whoever asks; asked anew each time, and answered by 304 where nothing changed
  'Cache-Control': 'public, no-cache',
  Vary: 'Accept',
};

export function preflightAnswer(): Response {
  return new Response(null, {
    status: 204,
    headers: {
      ...READABLE_BY_ALL,
      'Access-Control-Allow-Methods': 'GET, HEAD, OPTIONS',
      'Access-Control-Allow-Headers': 'Accept, If-None-Match',
      'Access-Control-Max-Age': '86400',
    },
  });
}

/** One read of the interface: found, asked, described, as JSON or CSV, with what caches and programs go by. */
export async function answer(
  registry: Registry,
  request: Request,
  segments: readonly string[],
  allow: () => Allowance,
): Promise<Response> {
  let headers: Record<string, string> = READABLE_BY_ALL;
  try {
    headers = { ...headers, ...allowanceHeaders(allow()) };
    const found = resourceAt(segments);
    if (found === undefined) throw new NotFound('There is nothing at this address of the interface.');
    const type = wantedType(request, found.resource);
    if (type === undefined) return await notAcceptable(found.resource, headers);
    const value = await read(registry, request, found);
    return shown(request, found.resource, value, type, headers);
  } catch (error) {
    const refused = await problemResponse(error);
    for (const [name, text] of Object.entries(headers)) refused.headers.set(name, text);
    return refused;
  }
}

async function read(registry: Registry, request: Request, { resource, path }: Found): Promise<object> {
  const query = queryOf(new URL(request.url), resource);
  const checked = [resource.parts.safeParse(path), resource.query.safeParse(query)].flatMap(
    ({ error }) => error?.issues ?? [],
  );
  if (checked.length > 0 || !Object.values(path).every(isStorableText)) {
    throw new InvalidInput(
      checked.map((issue) => ({
        path: issue.path.join('.'),
        what: query[String(issue.path[0])] === undefined ? 'It is missing.' : 'It cannot be read.',
        why: 'The address does not say what is asked for.',
        fix: 'See the description of the interface at /api/v1/openapi.json.',
      })),
    );
  }
  const found = await resource.read(registry, { path, query });
  if (found === undefined) throw new NotFound('There is no such thing, or nothing of it is public.');
  return resource.answer.parse(found) as object;
}

/** What the query says; a name that is not described is refused, so that a mistyped filter is not taken for none. */
function queryOf({ searchParams }: URL, { query }: Resource): Record<string, string | undefined> {
  const unknown = [...searchParams.keys()].filter((name) => !Object.hasOwn(query.shape, name));
  if (unknown.length > 0) {
    throw new InvalidInput(
      unknown.slice(0, 20).map((name) => ({
        path: name.slice(0, 40),
        what: 'There is no such part of a query here.',
        why: 'A filter that is not known would be taken for none.',
        fix: `Use any of: ${Object.keys(query.shape).join(', ') || 'none'}.`,
      })),
    );
  }
  return Object.fromEntries(
    Object.keys(query.shape).flatMap((name) => {
      const value = searchParams.get(name);
      return value === null || value === '' ? [] : [[name, value.replaceAll('\0', '')]];
    }),
  );
}

/** RFC 9110, 12.5.1: what is asked for by Accept; JSON where both are as good. */
function wantedType(request: Request, resource: Resource): string | undefined {
  const offered = resource.list === undefined ? [JSON_TYPE] : [JSON_TYPE, CSV_TYPE];
  const accept = request.headers.get('accept') ?? undefined;
  return new Negotiator({ headers: accept === undefined ? {} : { accept } }).mediaType(offered);
}

async function notAcceptable(resource: Resource, headers: Record<string, string>): Promise<Response> {
  const offered = resource.list === undefined ? JSON_TYPE : `${JSON_TYPE} or ${CSV_TYPE}`;
  return new Response(
    JSON.stringify({
      type: 'about:blank',
      status: 406,
      title: `This is to be had as ${offered}.`,
      issues: [],
    }),
    { status: 406, headers: { ...headers, 'Content-Type': 'application/problem+json' } },
  );
}

function shown(
  request: Request,
  resource: Resource,
  value: object,
  type: string,
  headers: Record<string, string>,
): Response {
  const list = resource.list === undefined ? undefined : Reflect.get(value, resource.list);
  const body = type === CSV_TYPE ? listCsv(list) : `${JSON.stringify(value)}\n`;
  const tag = entityTag(body);
  const all = {
    ...headers,
    ETag: tag,
    'Content-Type': type === CSV_TYPE ? 'text/csv; charset=utf-8; header=present' : JSON_TYPE,
    ...linksOf(request, value),
  };
  if (isKnownTag(request.headers.get('if-none-match'), tag))
    return new Response(null, { status: 304, headers: all });
  return new Response(body, { headers: all });
}

/** The neighbouring pages of a list (RFC 8288). */
function linksOf(request: Request, value: object): Record<string, string> {
  const links = (['next', 'previous'] as const).flatMap((name) => {
    const cursor: unknown = Reflect.get(value, name);
    if (typeof cursor !== 'string') return [];
    const { pathname, searchParams } = new URL(request.url);
    const query = new URLSearchParams(searchParams);
    query.set('from', cursor);
    return [`<${pathname}?${query}>; rel="${name === 'next' ? 'next' : 'prev'}"`];
  });
  return links.length === 0 ? {} : { Link: links.join(', ') };
}
