'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { KeptForm } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import type { ImportMapper } from '@/lib/capture/sheet/importMapper';
import type { JudgedRows, RowCounts } from '@/lib/capture/sheet/importReport';
import { beginImport, goOn, takeImportBack, takeSheet, takeUp } from './actions';

interface StartImportProps {
  importId: string;
  counts: RowCounts;
  judged: JudgedRows;
}

/** All or nothing, or what can be taken; and what becomes of rows that could not be approved. */
export function StartImport({ importId, counts, judged }: StartImportProps) {
  const [state, dispatch] = useActionState(beginImport, UNTOUCHED);
  const isWhole = counts.refused === 0;
  return (
    <FormFrame
      label="Import"
      state={state}
      dispatch={dispatch}
      submitText={counts.create === 1 ? 'Import 1 run' : `Import ${counts.create} runs`}
    >
      <input type="hidden" name="importId" value={importId} />
      {isWhole ? (
        <input type="hidden" name="mode" value="all" />
      ) : (
        <ChoiceField
          name="mode"
          kind="radio"
          label="Rows with faults"
          required
          options={[
            {
              value: 'partial',
              label: `Leave out the ${counts.refused} refused ${counts.refused === 1 ? 'row' : 'rows'} and import the others`,
            },
            { value: 'all', label: 'Import nothing unless every row can be taken' },
          ]}
          defaultValue={state.values.mode ?? ''}
          error={errorOf(state.issues, 'mode')}
        />
      )}
      {judged.failing > 0 ? (
        <ChoiceField
          name="failing"
          kind="radio"
          label={
            judged.judged < counts.create
              ? `Rows that fail a rule (${judged.failing} of the first ${judged.judged})`
              : `Rows that fail a rule (${judged.failing} of ${counts.create})`
          }
          hint="A run that fails a rule cannot be approved as it is."
          required
          options={[
            {
              value: 'draft',
              label: 'Keep them as drafts',
              hint: 'Not sent. You can add what is missing and send each from its form.',
            },
            {
              value: 'send',
              label: 'Send them for review all the same',
              hint: 'A reviewer sees what fails.',
            },
          ]}
          defaultValue={state.values.failing ?? ''}
          error={errorOf(state.issues, 'failing')}
        />
      ) : null}
    </FormFrame>
  );
}

interface ChooseSheetProps {
  importId: string;
  sheetName: string | undefined;
  sheetNames: readonly string[];
  headings: ImportMapper['headings'];
}

/** The sheets of a workbook and the row of its headings; each has columns of its own. */
export function ChooseSheet({ importId, sheetName, sheetNames, headings }: ChooseSheetProps) {
  const [state, dispatch] = useActionState(takeSheet, UNTOUCHED);
  return (
    <KeptForm dispatch={dispatch} label="Where the table is">
      {state.title ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="importId" value={importId} />
      <div className="flex flex-wrap items-end gap-3">
        {sheetNames.length > 1 ? (
          <ChoiceField
            name="sheetName"
            label="Sheet of the workbook"
            options={sheetNames.map((name) => ({ value: name, label: name }))}
            defaultValue={sheetName}
          />
        ) : null}
        <ChoiceField
          name="headingRow"
          label="Row with the headings"
          options={headings.options}
          defaultValue={String(headings.chosen)}
        />
        <SubmitButton variant="secondary">Read it from there</SubmitButton>
      </div>
    </KeptForm>
  );
}

const BUTTONS = {
  undo: { action: takeImportBack, text: 'Take this import back', variant: 'danger' },
  stop: { action: takeImportBack, text: 'Stop and take back', variant: 'danger' },
  resume: { action: goOn, text: 'Go on', variant: 'primary' },
  again: { action: takeUp, text: 'Check it again', variant: 'secondary' },
} as const;

export function ImportButton({ importId, kind }: { importId: string; kind: keyof typeof BUTTONS }) {
  const { action, text, variant } = BUTTONS[kind];
  const [state, dispatch] = useActionState(action, UNTOUCHED);
  return (
    <KeptForm dispatch={dispatch} label={text}>
      {state.title ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="importId" value={importId} />
      <SubmitButton variant={variant}>{text}</SubmitButton>
    </KeptForm>
  );
}
