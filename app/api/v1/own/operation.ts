import { z } from 'zod';
import type { TokenScope } from '@/lib/access/personalTokens';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';

export type Method = 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';

/** What a request carries besides its address. */
export type Sent =
  | { readonly kind: 'json'; readonly schema: z.ZodObject; readonly isPatch?: boolean }
  | {
      readonly kind: 'file';
      readonly types: readonly string[];
      readonly mostBytes: number;
      readonly tooLarge: string;
    };

/** What an operation is given: everything parsed, and whose it is. */
export interface Asked<Query, Body> {
  readonly actor: Actor;
  readonly path: Readonly<Record<string, string>>;
  readonly query: Query;
  readonly body: Body;
  readonly bytes: Uint8Array;
  /** Of the draft, by If-Match; “*” stands for that of now. */
  readonly version: number | 'any';
  /** New for each thing that is to be done, and the same where one that broke off is taken up again. */
  readonly onceId: string;
}

export interface Done<Answer> {
  readonly value: Answer;
  /** Where it is not the operation's own. */
  readonly status?: number;
  /** Below the interface. */
  readonly location?: string;
  /** Of the draft, as it stands now. */
  readonly version?: number;
}

/** One thing that a program may do for its tester: from it come route, description and page. */
export interface Operation {
  readonly method: Method;
  readonly path: `/own/${string}`;
  readonly id: string;
  readonly summary: string;
  readonly scope: TokenScope;
  readonly parts: z.ZodObject<Record<string, z.ZodType<string>>>;
  readonly query: z.ZodObject;
  readonly sent: Sent | undefined;
  /** Asks for the version of the draft that the program saw (RFC 9110, 13.1.1). */
  readonly isOfVersion: boolean;
  /** The answer carries that version as its ETag. */
  readonly isTagged: boolean;
  readonly status: 200 | 201;
  readonly answer: z.ZodType;
  readonly act: (registry: Registry, asked: Asked<never, never>) => Promise<Done<unknown>>;
}

const NOTHING = z.object({});

interface OperationGiven<Query extends z.ZodObject, Body extends z.ZodObject, Answer extends z.ZodType>
  extends Pick<Operation, 'method' | 'path' | 'id' | 'summary' | 'scope'> {
  readonly query?: Query;
  readonly body?: Body;
  readonly file?: Omit<Extract<Sent, { kind: 'file' }>, 'kind'>;
  readonly isOfVersion?: boolean;
  readonly isTagged?: boolean;
  readonly status?: 200 | 201;
  readonly answer: Answer;
  readonly act: (
    registry: Registry,
    asked: Asked<z.output<Query>, z.output<Body>>,
  ) => Promise<Done<z.input<Answer>>>;
}

const PART_WORDS: Readonly<Record<string, string>> = {
  id: 'Id of the run',
  photo: 'Id of the photo',
};

/** The same with its types forgotten, once they were checked where it is written. */
export function operation<
  Answer extends z.ZodType,
  Query extends z.ZodObject = typeof NOTHING,
  Body extends z.ZodObject = typeof NOTHING,
>(given: OperationGiven<Query, Body, Answer>): Operation {
  const {
    query = NOTHING,
    body,
    file,
    isOfVersion = false,
    isTagged = false,
    status = 200,
    act,
    ...rest
  } = given;
  const names = [...given.path.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => name);
  const isPatch = given.method === 'PATCH';
  return {
    ...rest,
    parts: z.object(
      Object.fromEntries(
        names.map((name) => [name, z.uuid().meta({ description: PART_WORDS[name] ?? name })]),
      ),
    ),
    query,
    sent: body ? { kind: 'json', schema: body, isPatch } : file && { kind: 'file', ...file },
    isOfVersion,
    isTagged,
    status,
    act: act as Operation['act'],
  };
}
