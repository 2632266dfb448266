import { Button } from '@/app/ui/Button';
import { Notice } from '@/app/ui/Notice';
import { RestoredNotice } from '../../[runId]/DraftNotices';
import { changedNames } from '../../formValues';
import { SHEET_NAMES, sheetTitle } from './sheetForm';
import type { SheetDraft } from './useSheetDraft';

/** What has to be said about the draft itself: a conflict, values found again, values put back. */
export function SheetNotices({ draft }: { draft: SheetDraft }) {
  return (
    <>
      {draft.state.status === 'conflict' ? (
        <Notice kind="problem" title={draft.state.message} live>
          <p>
            Nothing was overwritten, and what you typed here stays in this browser. After reloading you see
            the other version and can choose between the two.
          </p>
          <Button onClick={() => window.location.reload()}>Reload to see the other version</Button>
        </Notice>
      ) : null}
      {draft.found ? (
        <Notice kind="caution" title="This browser holds values that the saved draft does not have" live>
          <p>
            They were typed here over an older version of the draft. They differ in:{' '}
            {changedNames(draft.found.form, draft.values, SHEET_NAMES).map(sheetTitle).join(', ')}.
          </p>
          <div className="flex flex-wrap gap-3">
            <Button onClick={draft.takeFound}>Use what was typed here</Button>
            <Button onClick={draft.dropFound}>Keep the saved version</Button>
          </div>
        </Notice>
      ) : null}
      {draft.wasRestored ? <RestoredNotice /> : null}
    </>
  );
}
