import { z } from 'zod';
import type { Registry } from '@/lib/registry/registry';

/** What a query or a path may say: text of a length that an address has, each with one sentence and an example. */
export function word(description: string, example?: string) {
  return z
    .string()
    .max(300)
    .meta({ description, ...(example === undefined ? {} : { examples: [example] }) });
}

type Words = z.ZodObject<Record<string, z.ZodType<string | undefined>>>;

export interface Asked {
  readonly path: Readonly<Record<string, string>>;
  readonly query: Readonly<Record<string, string | undefined>>;
}

/**
 * One address of the interface: from it come the route, the description that programs read and the page that people
 * read. What is answered is parsed by its own schema, so that nothing leaves that is not described.
 */
export interface Resource {
  /** Below /api/v1, with its parts in braces. */
  readonly path: `/${string}`;
  /** Of the operation, for clients that are generated. */
  readonly id: string;
  readonly summary: string;
  /** What a page of the same has in its address. */
  readonly pageOf: string;
  readonly parts: Words;
  readonly query: Words;
  readonly answer: z.ZodType;
  /** The list in the answer that can be had as CSV; undefined where it holds none. */
  readonly list?: string;
  /** Undefined where there is no such thing. */
  readonly read: (registry: Registry, asked: Asked) => Promise<unknown>;
}

const NOTHING = z.object({});

interface ResourceGiven<Parts extends Words, Query extends Words, Answer extends z.ZodType>
  extends Omit<Resource, 'parts' | 'query' | 'answer' | 'read'> {
  readonly parts?: Parts;
  readonly query?: Query;
  readonly answer: Answer;
  readonly read: (
    registry: Registry,
    asked: { path: z.output<Parts>; query: z.output<Query> },
  ) => Promise<z.input<Answer> | undefined>;
}

/** The same with its types forgotten, once they were checked where it is written. */
export function resource<
  Answer extends z.ZodType,
  Parts extends Words = typeof NOTHING,
  Query extends Words = typeof NOTHING,
>(given: ResourceGiven<Parts, Query, Answer>): Resource {
  const { read, parts = NOTHING, query = NOTHING, ...rest } = given;
  return {
    ...rest,
    parts,
    query,
    read: (registry, asked) =>
      read(registry, {
        path: parts.parse(asked.path) as z.output<Parts>,
        query: query.parse(asked.query) as z.output<Query>,
      }),
  };
}
