import type { RunForm } from '@/lib/capture/runFields';
import type { InputIssue } from '@/lib/domain/errors';
import type { RecordFormView } from '@/lib/registry/views/recordForm';

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
}
