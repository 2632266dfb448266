import type { z } from 'zod';
import { type InputIssue, InvalidInput } from './errors';
import { parseInput } from './parseInput';

/**
 * A typed form before its use case: what could not be read and what the schema refuses are told together, so that
 * one correction is enough. A field that could not be read is not also reported as missing, and what the form tells
 * at fields of its own (`told`) is not told again under the schema's names.
 */
export function parseForm<Schema extends z.ZodType>(
  schema: Schema,
  form: { input: unknown; issues: readonly InputIssue[]; told?: readonly string[] },
): z.output<Schema> {
  const refusals = refusalsOf(schema, form.input);
  const told = new Set([
    ...form.issues.map((issue) => issue.path),
    ...(form.issues.length > 0 ? (form.told ?? []) : []),
  ]);
  const isTold = ({ path }: InputIssue) => told.has(path) || told.has(path.split('.')[0] ?? '');
  const issues = [...form.issues, ...refusals.filter((issue) => !isTold(issue))];
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
