import type { z } from 'zod';
import { type InputIssue, InvalidInput } from './errors';
import { unstorablePath } from './storableText';

/** The edge of a use case: past it, types are trusted. Zod's issues become the registry's own. */
export function parseInput<Schema extends z.ZodType>(schema: Schema, input: unknown): z.output<Schema> {
  const parsed = schema.safeParse(input);
  if (!parsed.success) throw new InvalidInput(parsed.error.issues.map(issueFromZod));
  const path = unstorablePath(parsed.data);
  if (path !== undefined) throw new InvalidInput([unstorable(path)]);
  return parsed.data;
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

function unstorable(path: string): InputIssue {
  return {
    path,
    what: 'A text holds a character that cannot be kept.',
    why: 'No keyboard types it: it came with something pasted, or from a program.',
    fix: 'Type the text again.',
  };
}
