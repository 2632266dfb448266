import type { InputIssue } from '@/lib/run/errors';

export interface SentTrace {
  ok: boolean;
  title: string;
  issues: readonly InputIssue[];
  traceId: string | undefined;
}

/** Sends a recording and says what became of it; it never throws. */
export async function sendTrace(to: string, body: FormData, send: typeof fetch = fetch): Promise<SentTrace> {
  try {
    const answer = await send(to, {
      method: 'POST',
      headers: { Accept: 'application/json' },
      body,
    });
    const problem: unknown = await answer.json();
    if (answer.ok)
      return { ok: true, title: 'The recording is read.', issues: [], traceId: traceIdIn(problem) };
    const { title, issues } =
      typeof problem === 'object' && problem !== null ? { ...EMPTY, ...problem } : EMPTY;
    return {
      ok: false,
      title: typeof title === 'string' && title !== '' ? title : 'The recording was refused.',
      issues: Array.isArray(issues) ? issues.filter(isIssue) : [],
      traceId: undefined,
    };
  } catch {
    return {
      ok: false,
      title: 'The server could not be reached. Try again when you are online.',
      issues: [],
      traceId: undefined,
    };
  }
}

const EMPTY: { title: unknown; issues: unknown } = { title: '', issues: [] };

function isIssue(value: unknown): value is InputIssue {
  if (typeof value !== 'object' || value === null) return false;
  return ['path', 'what', 'why', 'fix'].every((key) => typeof Reflect.get(value, key) === 'string');
}

function traceIdIn(answer: unknown): string | undefined {
  if (typeof answer !== 'object' || answer === null) return undefined;
  const id: unknown = Reflect.get(answer, 'traceId');
  return typeof id === 'string' ? id : undefined;
}
