import { buttonClass } from '@/app/ui/buttonClass';
import { CHOICES_ID } from './DraftNotices';
import { draftWords } from './draftState';
import type { Draft } from './useDraft';

/** Says whether what was typed is safe. Its button is the form's first: Enter in a field saves and never submits. */
export function DraftBar({ draft }: { draft: Pick<Draft, 'state' | 'asked'> }) {
  return (
    <div className="no-print sticky top-0 z-10 mb-6 flex flex-wrap items-center justify-between gap-3 border-y border-rule bg-paper py-2">
      <p role="status" className="text-sm" data-draft-status={draft.state.status}>
        {draftWords(draft.state)}{' '}
        {draft.asked.length > 0 ? (
          <a href={`#${CHOICES_ID}`} className="link inline-flex min-h-6 items-center">
            Choose which value holds
          </a>
        ) : null}
      </p>
      <button type="submit" name="intent" value="save" className={buttonClass('secondary')}>
        Save now
      </button>
    </div>
  );
}
