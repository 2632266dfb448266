import type { z } from 'zod';
import { type InputIssue, InvalidInput } from '@/lib/domain/errors';
import { parseInput } from './parseInput';

/**
 * A typed form before its use case: what could not be read and what the schema refuses are told together, so that
 * one correction is enough. A field that could not be read is not also reported as missing.
 */
export function parseForm<Schema extends z.ZodType>(
  schema: Schema,
  form: { input: unknown; issues: readonly InputIssue[] },
): z.output<Schema> {
  const refusals = refusalsOf(schema, form.input);
  const told = new Set(form.issues.map((issue) => issue.path));
  const issues = [...form.issues, ...refusals.filter((issue) => !told.has(issue.path))];
  if (issues.length > 0) throw new InvalidInput(issues);
  return parseInput(schema, form.input);
}

function refusalsOf(schema: z.ZodType, input: unknown): readonly InputIssue[] {
  try {
    parseInput(schema, input);
    return [];
  } catch (error) {
    if (error instanceof InvalidInput) return error.issues;
    throw error;
  }
}
