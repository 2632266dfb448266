import type { Problem } from './problem';

/** What a server action gives back to its form: the problem, and what was typed (never a password). */
export interface FormState {
  problem?: Problem;
  values?: Record<string, string>;
  done?: string;
}

export const EMPTY_FORM_STATE: FormState = {};

/** The typed texts of a form, to be shown again after an error; passwords are left out. */
export function typedValues(data: FormData): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of data) {
    if (typeof value === 'string' && !/password/i.test(name) && !name.startsWith('$')) values[name] = value;
  }
  return values;
}

export function text(data: FormData, name: string): string {
  const value = data.get(name);
  return typeof value === 'string' ? value : '';
}
