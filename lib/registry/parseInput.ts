import type { z } from 'zod';
import { type InputIssue, InvalidInput } from '@/lib/run/errors';

/** The edge of a use case: past it, types are trusted. Zod's issues become the registry's own. */
export function parseInput<Schema extends z.ZodType>(schema: Schema, input: unknown): z.output<Schema> {
  const parsed = schema.safeParse(input);
  if (parsed.success) return parsed.data;
  throw new InvalidInput(parsed.error.issues.map(issueFromZod));
}

/**
 * Schemas write their messages as "what | why | fix"; a bare message of the library is passed on as what is wrong.
 */
function issueFromZod(issue: z.core.$ZodIssue): InputIssue {
  const [what, why, fix] = issue.message.split(' | ');
  return {
    path: issue.path.map(String).join('.'),
    what: what ?? issue.message,
    why: why ?? 'The value does not fit this field.',
    fix: fix ?? 'Correct it and send again.',
  };
}
