'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { ask, close, hide, voice } from './actions';

/** One voice for a request, or the way to take it back. */
export function VoiceButton({ requestId, backs }: { requestId: string; backs: boolean }) {
  return (
    <OneButtonForm action={voice} className="gap-3">
      <input type="hidden" name="requestId" value={requestId} />
      <input type="hidden" name="wants" value={backs ? 'unback' : 'back'} />
      <SubmitButton variant="secondary">{backs ? 'Take my vote back' : 'I want to know too'}</SubmitButton>
    </OneButtonForm>
  );
}

export function CloseButton({ requestId }: { requestId: string }) {
  return (
    <OneButtonForm action={close} className="gap-3">
      <input type="hidden" name="requestId" value={requestId} />
      <SubmitButton variant="secondary">Take the request back</SubmitButton>
    </OneButtonForm>
  );
}

export function HideForm({ requestId }: { requestId: string }) {
  return (
    <ActionForm action={hide} label="Hide the request">
      {({ value, error, state }) =>
        state.done ? null : (
          <>
            <input type="hidden" name="requestId" value={requestId} />
            <TextField
              name="reason"
              label="Why it is hidden"
              hint="Whoever asked is told, and it stands in the log."
              required
              multiline
              rows={3}
              maxLength={1000}
              defaultValue={value('reason')}
              error={error('reason')}
            />
            <SubmitButton>Hide it</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

interface AskFormProps {
  modelId: string;
  classKey: string;
  pairs: readonly { value: string; words: string }[];
  pair: string;
  question: string;
  /** Others ask for something like the pair, and were shown. */
  hasAlike: boolean;
}

export function AskForm({ modelId, classKey, pairs, pair, question, hasAlike }: AskFormProps) {
  return (
    <ActionForm action={ask} label="Ask for a test">
      {({ value, error }) => (
        <>
          <input type="hidden" name="modelId" value={modelId} />
          <input type="hidden" name="cruiseClassKey" value={classKey} />
          <input type="hidden" name="seen" value={hasAlike ? pair : ''} />
          <ChoiceField
            name="pair"
            label="What against what"
            hint="One thing changes, everything else stays the same."
            required
            emptyLabel="Choose"
            options={pairs.map((one) => ({ value: one.value, label: one.words }))}
            defaultValue={value('pair', pair)}
            error={error('pair')}
          />
          <TextField
            name="question"
            label="The question"
            hint="In a sentence, for example “Do the covers on the wheels save anything at 110?”"
            required
            maxLength={140}
            autoComplete="off"
            defaultValue={value('question', question)}
            error={error('question')}
          />
          {hasAlike ? (
            <CheckField
              name="isOther"
              label="I looked at those above; mine is another question"
              error={error('isOther')}
            />
          ) : null}
          <SubmitButton>Ask for it</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
