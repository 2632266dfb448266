import {
  Conflict,
  type InputIssue,
  InvalidInput,
  NotAllowed,
  NotFound,
  OutOfReach,
  Overloaded,
  TooLarge,
  TooSoon,
} from '@/lib/run/errors';
import { noteRefusal } from './noteRefusal';

/** What a failed action tells its form: a sentence for the page and issues for the fields. */
export interface Problem {
  status: number;
  title: string;
  issues: readonly InputIssue[];
  /** After how long the same may be asked for again. */
  retryAfterS?: number;
}

/** The one place where a domain error becomes a status and a message. A fault is thrown on. */
export function problemOf(error: unknown): Problem {
  if (error instanceof TooSoon)
    return {
      status: 429,
      title: 'Too many tries.',
      issues: error.issues,
      retryAfterS: error.waitS,
    };
  if (error instanceof InvalidInput) {
    const count = error.issues.length;
    return {
      status: 422,
      title: count === 1 ? 'One thing needs your attention.' : `${count} things need your attention.`,
      issues: error.issues,
    };
  }
  if (error instanceof NotAllowed)
    return { status: error.isSignedIn ? 403 : 401, title: error.message, issues: [] };
  if (error instanceof NotFound) return { status: 404, title: error.message, issues: [] };
  if (error instanceof Conflict) return { status: 409, title: error.message, issues: [] };
  if (error instanceof TooLarge) return { status: 413, title: error.message, issues: [] };
  if (error instanceof OutOfReach) return { status: 422, title: error.reasons.join(' '), issues: [] };
  if (error instanceof Overloaded) return { status: 503, title: error.message, issues: [] };
  throw error;
}

/** The same as a JSON answer (RFC 9457 problem details). */
export async function problemResponse(error: unknown): Promise<Response> {
  const problem = problemOf(error);
  await noteRefusal(error);
  return new Response(JSON.stringify({ type: 'about:blank', ...problem }), {
    status: problem.status,
    headers: {
      'Content-Type': 'application/problem+json',
      ...(problem.retryAfterS === undefined ? {} : { 'Retry-After': String(problem.retryAfterS) }),
    },
  });
}
