import { type FormState, UNTOUCHED } from '@/app/ui/forms/formState';
import type { RecordingOutcome } from '@/lib/registry/traces/draftsFromRecordings';

/** The form's state with what became of the files that were sent. */
export interface SentRecordings extends FormState {
  outcomes: readonly RecordingOutcome[];
}

export const NOTHING_SENT: SentRecordings = { ...UNTOUCHED, outcomes: [] };
