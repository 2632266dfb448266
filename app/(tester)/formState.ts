import { problemOf } from '@/app/visitor/problem';
import type { InputIssue } from '@/lib/run/errors';

/** What a form's action gives back when it did not lead elsewhere. Everything typed comes back with it. */
export interface FormState {
  title: string;
  issues: readonly InputIssue[];
  values: Readonly<Record<string, string>>;
}

export const UNTOUCHED: FormState = { title: '', issues: [], values: {} };

/** The texts of a posted form; the framework's own fields and files stay out. */
export function textsOf(data: FormData): Record<string, string> {
  const texts: Record<string, string> = {};
  for (const [name, value] of data) {
    if (typeof value === 'string' && !name.startsWith('$')) texts[name] = value;
  }
  return texts;
}

/** A refusal as a form shows it; a fault is thrown on. */
export function refused(error: unknown, values: Readonly<Record<string, string>>): FormState {
  const { title, issues } = problemOf(error);
  return { title, issues, values };
}
