import type { InputIssue } from '@/lib/run/errors';
import type { SummaryError } from './ErrorSummary';
import type { FieldError } from './Field';

/** The first issue of a field, as its control shows it. */
export function errorOf(issues: readonly InputIssue[], path: string): FieldError | undefined {
  return issues.find((issue) => issue.path === path);
}

/** In the order of the fields; what belongs to none of them comes last. */
export function inOrder<Issue extends { path: string }>(
  issues: readonly Issue[],
  order: readonly string[],
): Issue[] {
  const place = ({ path }: Issue) => (order.includes(path) ? order.indexOf(path) : order.length);
  return issues.toSorted((a, b) => place(a) - place(b));
}

/** All of them for the summary at the top. An id that differs from the path is looked up. */
export function summaryOf(
  issues: readonly InputIssue[],
  idOf: (path: string) => string = (path) => path,
): SummaryError[] {
  return issues.map((issue) => ({ fieldId: idOf(issue.path), message: issue.what }));
}
