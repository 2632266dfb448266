import type { FormState } from '@/app/ui/forms/formState';
import { noteRefusal } from './noteRefusal';
import { problemOf } from './problem';

/** A refusal as a form shows it; a fault is thrown on. */
export async function refused(error: unknown, values: FormState['values'] = {}): Promise<FormState> {
  const { title, issues } = problemOf(error);
  await noteRefusal(error);
  return { title, issues, values };
}
