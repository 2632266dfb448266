import type { FormState } from '@/app/ui/forms/formState';
import type { RunForm } from '@/lib/run/runForm';
import type { Torn } from './useDraft';

/** What comes back when the form of a run could not be sent: the reasons, and everything as it was posted. */
export interface SentRun extends FormState {
  form: RunForm | undefined;
  draftVersion: number;
  /** The draft was changed elsewhere meanwhile; in `torn` where the same fields were. */
  wasElsewhere?: boolean;
  torn?: Torn | undefined;
  /** Fields whose choice was still open when they were posted. */
  missing?: readonly string[];
}

export function notSentYet(draftVersion: number): SentRun {
  return { title: '', issues: [], values: {}, form: undefined, draftVersion };
}
