import type { FormState } from '@/app/ui/forms/formState';
import type { RunForm } from '@/lib/run/runForm';

/** What comes back when the form of a run could not be sent: the reasons, and everything as it was posted. */
export interface SentRun extends FormState {
  form: RunForm | undefined;
  draftVersion: number;
}

export function notSentYet(draftVersion: number): SentRun {
  return { title: '', issues: [], values: {}, form: undefined, draftVersion };
}
