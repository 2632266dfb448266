import { Button } from '@/app/ui/Button';
import { Notice } from '@/app/ui/Notice';
import { fieldTitle } from '@/lib/run/fields/fieldWords';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';
import { changedNames } from '../formValues';
import type { Draft } from './useDraft';

/** What has to be said about the draft itself: a conflict, values found again, values put back. */
export function DraftNotices({
  draft,
  names = RUN_FORM_NAMES,
  titleOf = fieldTitle,
}: {
  draft: Draft;
  names?: readonly string[];
  titleOf?: (name: string) => string;
}) {
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
            {fieldWords(changedNames(draft.found.form, draft.values, names), titleOf)}.
          </p>
          <div className="flex flex-wrap gap-3">
            <Button onClick={draft.takeFound}>Use what was typed here</Button>
            <Button onClick={draft.dropFound}>Keep the saved version</Button>
          </div>
        </Notice>
      ) : null}
      {draft.wasRestored ? (
        <Notice kind="info" title="Put back what you typed last" live>
          It had not reached the server when this page was closed.
        </Notice>
      ) : null}
    </>
  );
}

export function fieldWords(names: readonly string[], titleOf = fieldTitle): string {
  return names.map((name) => lowerFirst(titleOf(name))).join(', ');
}

function lowerFirst(text: string): string {
  return text.slice(0, 1).toLowerCase() + text.slice(1);
}
