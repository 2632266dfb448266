import type { FormPhoto, RecordFormView } from '@/lib/registry/runs/recordForm';
import type { InputIssue } from '@/lib/run/errors';
import type { RunForm } from '@/lib/run/runForm';

/** What every part of the form works with. */
export interface FormParts {
  view: RecordFormView;
  /** What the fields were opened with. */
  starting: RunForm;
  /** What stands in them now. */
  values: RunForm;
  /** From the server, after an attempt to submit. */
  issues: readonly InputIssue[];
  /** From the cross-checks, while typing. */
  remarks: Readonly<Record<string, readonly string[]>>;
  review: RecordFormView['review'];
  photos: readonly FormPhoto[];
  /** What the run's photos are by now; left out where they are only looked at. */
  onPhotos?: (photos: readonly FormPhoto[]) => void;
}
