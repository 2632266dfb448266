import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import type { FormSubjects } from '@/lib/registry/runs/formSubjects';
import { titlesInWords } from '@/lib/run/fields/fieldWords';
import { AskedFields } from '../AskedFields';
import { nameOfChosen } from '../chosenName';
import type { Choices } from './useChoices';
import type { Draft } from './useDraft';

/** Where the fields stand that wait for a choice. */
export const CHOICES_ID = 'changed-twice';

interface DraftNoticesProps {
  draft: Draft;
  view: Pick<FormSubjects, 'cars' | 'loops'>;
  answers: Pick<Choices, 'choices' | 'missing' | 'onChoose'>;
  /** The field of a run that a name of this form stands for; the same, unless the form is a day's. */
  fieldOf?: (name: string) => string;
}

const itself = (name: string) => name;

/** What has to be said about the draft itself: changed elsewhere too, or put back. */
export function DraftNotices({ draft, view, answers, fieldOf = itself }: DraftNoticesProps) {
  const { asked, taken, state } = draft;
  return (
    <>
      {asked.length > 0 ? (
        <Notice
          id={CHOICES_ID}
          kind="problem"
          title="The same field was changed here and elsewhere. Which one holds?"
          live
        >
          <input type="hidden" name="asked" value={JSON.stringify(asked.map(({ name }) => name))} />
          <AskedFields
            asked={asked}
            here="in this form"
            nameOf={(name, id) => nameOfChosen(name, id, view)}
            fieldOf={fieldOf}
            missing={new Set(answers.missing)}
            choices={answers.choices}
            onChoose={answers.onChoose}
          />
          <p>Everything else of both is in the form already. Nothing is saved before you have chosen.</p>
          <SubmitButton name="intent" value="settle" variant="secondary" pendingText="Saving…">
            Use what is chosen
          </SubmitButton>
        </Notice>
      ) : null}
      {asked.length === 0 && state.status === 'conflict' ? (
        <Notice kind="problem" title={state.message} live>
          Nothing was overwritten, and what you typed here stays in this browser.
        </Notice>
      ) : null}
      {taken.length > 0 ? (
        <Notice kind="info" title={`Taken over from elsewhere: ${titlesInWords(taken.map(fieldOf))}.`} live>
          What you typed here stands beside it. Nothing was sent for review: look at it, and press again.
        </Notice>
      ) : null}
      {draft.wasRestored ? <RestoredNotice /> : null}
    </>
  );
}

/** What was typed last had been kept in this browser alone. */
function RestoredNotice() {
  return (
    <Notice kind="info" title="Put back what you typed last" live>
      It had not reached the server when this page was closed.
    </Notice>
  );
}
