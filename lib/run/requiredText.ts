import type { InputIssue } from './errors';

/** A text without which a form cannot be taken, with the reason. */
export interface RequiredText {
  name: string;
  label: string;
  why: string;
}

/** One issue for each required text that was left empty. */
export function missingTexts(
  form: Readonly<Record<string, string>>,
  texts: readonly RequiredText[],
): InputIssue[] {
  return texts
    .filter(({ name }) => (form[name] ?? '').trim() === '')
    .map(({ name, label, why }) => ({ path: name, what: `${label} is missing.`, why, fix: 'Enter it.' }));
}
