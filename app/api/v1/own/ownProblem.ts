import { problemOf } from '@/app/visitor/problem';
import { BadToken, LacksScope } from '@/lib/registry/accounts/tokenActor';
import { ruleWords } from '@/lib/registry/runs/ownRuns';
import { FailsRules } from '@/lib/registry/runs/submitRun';
import { StaleDraft } from '@/lib/run/errors';
import { faultOf } from './ownShapes';
import { placeOf } from './places';

/** What HTTP itself refuses here, before anything is asked of the registry. */
export class HttpRefusal extends Error {
  constructor(
    readonly status: 405 | 412 | 415 | 428,
    message: string,
    readonly headers: Readonly<Record<string, string>> = {},
  ) {
    super(message);
    this.name = 'HttpRefusal';
  }
}

interface Told {
  status: number;
  title: string;
  errors: object[];
  headers: Record<string, string>;
}

/** A refusal as problem details (RFC 9457), each fault with its place. A fault of ours is thrown on. */
export function ownProblem(error: unknown): Response {
  const { status, title, errors, headers } = toldOf(error);
  return new Response(`${JSON.stringify({ type: 'about:blank', status, title, errors })}\n`, {
    status,
    headers: { ...headers, 'Content-Type': 'application/problem+json' },
  });
}

function toldOf(error: unknown): Told {
  if (error instanceof HttpRefusal)
    return { status: error.status, title: error.message, errors: [], headers: { ...error.headers } };
  if (error instanceof StaleDraft)
    return {
      status: 412,
      title: 'The draft was changed since you read it. Read it again.',
      errors: [],
      headers: {},
    };
  const { status, title, issues, retryAfterS } = problemOf(error);
  return {
    status,
    title,
    errors: error instanceof FailsRules ? error.findings.flatMap(failing) : issues.map(faultOf),
    headers: {
      ...(retryAfterS === undefined ? {} : { 'Retry-After': String(retryAfterS) }),
      ...challengeOf(error),
    },
  };
}

/** RFC 6750, 3: how to come in, and what this token lacks. */
function challengeOf(error: unknown): Record<string, string> {
  const realm = 'Bearer realm="Evenloop"';
  if (error instanceof BadToken)
    return { 'WWW-Authenticate': error.code === 'none' ? realm : `${realm}, error="${error.code}"` };
  if (error instanceof LacksScope)
    return { 'WWW-Authenticate': `${realm}, error="insufficient_scope", scope="${error.scope}"` };
  return {};
}

function failing({ ruleId, outcome, sentence }: FailsRules['findings'][number]): object[] {
  if (outcome !== 'fail') return [];
  const { title, field } = ruleWords(ruleId);
  return [{ detail: `${title}: ${sentence}`, ruleId, ...placeOf(field ?? '') }];
}
