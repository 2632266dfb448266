import type { InputIssue } from '@/lib/run/errors';

/** What a form's action gives back when it did not lead elsewhere. Everything typed comes back with it. */
export interface FormState {
  /** What stopped it, in a sentence; empty where nothing did. */
  title: string;
  issues: readonly InputIssue[];
  values: Readonly<Record<string, string>>;
  /** What was done, in a sentence, where the form stays open after it. */
  done?: string;
}

export const UNTOUCHED: FormState = { title: '', issues: [], values: {} };

export function finished(done: string, values: FormState['values'] = {}): FormState {
  return { ...UNTOUCHED, done, values };
}

/** The texts of a posted form; the framework's own fields and files stay out. */
export function textsOf(data: FormData): Record<string, string> {
  const texts: Record<string, string> = {};
  for (const [name, value] of data) {
    if (typeof value === 'string' && !name.startsWith('$')) texts[name] = value;
  }
  return texts;
}

/** The same without what nobody may see again: passwords. */
export function shownTextsOf(data: FormData): Record<string, string> {
  return Object.fromEntries(Object.entries(textsOf(data)).filter(([name]) => !/password/i.test(name)));
}

export function text(data: FormData, name: string): string {
  const value = data.get(name);
  return typeof value === 'string' ? value : '';
}
