import type { FormState } from '@/app/ui/forms/formState';
import { problemOf } from './problem';

/** A refusal as a form shows it; a fault is thrown on. */
export function refused(error: unknown, values: FormState['values'] = {}): FormState {
  const { title, issues } = problemOf(error);
  return { title, issues, values };
}
