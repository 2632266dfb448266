'use client';

import type { FormHelp } from '@/app/ui/forms/ActionForm';
import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FieldErrorText } from '@/app/ui/forms/Field';
import { TextField } from '@/app/ui/forms/TextField';
import type { ReasonChoice } from '@/lib/protocol/reasons';
import { citeField, reasonField } from './decisionOf';

interface ReasonFieldsProps {
  help: FormHelp;
  failed: readonly ReasonChoice[];
  cautioned: readonly ReasonChoice[];
  others: readonly ReasonChoice[];
}

/** A box and an editable text for each rule that failed or asked for caution, and one for any other rule. */
export function ReasonFields({ help, failed, cautioned, others }: ReasonFieldsProps) {
  const error = help.error('reasons');
  return (
    <fieldset id="reasons" tabIndex={-1} aria-describedby="reasons-hint">
      <legend className="text-sm font-semibold">Reasons</legend>
      <p id="reasons-hint" className="text-sm text-ink-soft">
        Sent with a request for changes or a rejection, not with an approval. Each text is tied to its rule;
        the suggested ones may be edited.
      </p>
      {error ? <FieldErrorText id="reasons-error" error={error} /> : null}
      <div className="mt-3 space-y-5">
        {failed.map((choice) => (
          <Reason key={choice.ruleId} help={help} choice={choice} word="Failed" isCited />
        ))}
        {cautioned.map((choice) => (
          <Reason key={choice.ruleId} help={help} choice={choice} word="Caution" isCited={false} />
        ))}
        <details open={help.value('otherRule') !== '' || undefined}>
          <summary className="disclosure">Name another rule</summary>
          <div className="mt-3 space-y-4">
            <ChoiceField
              name="otherRule"
              label="Rule"
              hint="For what a photo shows and the numbers do not."
              kind="select"
              emptyLabel="None"
              defaultValue={help.value('otherRule')}
              options={others.map(({ ruleId, title }) => ({ value: ruleId, label: title }))}
            />
            <TextField
              name="otherReason"
              label="What was found, and what to do"
              multiline
              maxLength={2000}
              defaultValue={help.value('otherReason')}
              error={help.error('otherReason')}
            />
          </div>
        </details>
      </div>
    </fieldset>
  );
}

interface ReasonProps {
  help: FormHelp;
  choice: ReasonChoice;
  word: string;
  /** Ticked before anything was posted. */
  isCited: boolean;
}

function Reason({ help, choice, word, isCited }: ReasonProps) {
  const { ruleId, title, template } = choice;
  const wasPosted = Object.keys(help.state.values).length > 0;
  return (
    <div className="space-y-2">
      <CheckField
        name={citeField(ruleId)}
        label={
          <>
            <span className="font-semibold">{word}:</span> {title}
          </>
        }
        defaultChecked={wasPosted ? help.value(citeField(ruleId)) !== '' : isCited}
      />
      <div className="pl-8">
        <TextField
          name={reasonField(ruleId)}
          label={`Reason for “${title}”`}
          multiline
          maxLength={2000}
          defaultValue={help.value(reasonField(ruleId), template)}
          error={help.error(reasonField(ruleId))}
        />
      </div>
    </div>
  );
}
