'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { FileField } from '@/app/ui/forms/FileField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { accept, refuse, remove, upload } from './actions';

export function UploadForm({ mostMegabytes }: { mostMegabytes: number }) {
  return (
    <ActionForm label="Bring in a snapshot" action={upload}>
      {({ value, error }) => (
        <>
          <TextField
            name="origin"
            label="Address of the registry"
            hint="As people open it: https://loops.example. Its numbers are shown under this name."
            inputMode="url"
            autoComplete="off"
            spellCheck={false}
            required
            maxLength={200}
            defaultValue={value('origin')}
            error={error('origin')}
          />
          <FileField
            name="file"
            label="Snapshot"
            hint={`A zip from its page of data, up to ${mostMegabytes} MB; zipped again by another program it still is the same snapshot. A larger one is brought in on the server: npm run snapshot:import.`}
            accept=".zip,application/zip"
            required
            error={error('file')}
          />
          <SubmitButton pendingText="Sending…">Bring in</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

interface KeyFormProps {
  snapshotId: string;
  keyId: string;
  origin: string;
  /** Another one that this would take the place of. */
  isChange: boolean;
}

/** Two answers to one question, each with its reason. */
export function KeyForms({ snapshotId, keyId, origin, isChange }: KeyFormProps) {
  return (
    <div className="mt-4 grid gap-8 md:grid-cols-2">
      <ActionForm label={`Accept the key ${keyId}`} action={accept}>
        {({ value, error }) => (
          <>
            <input type="hidden" name="snapshotId" value={snapshotId} />
            <input type="hidden" name="keyId" value={keyId} />
            <TextField
              name="reason"
              id={`accept-${snapshotId}`}
              label={`How you know that it is the key of ${origin}`}
              hint={
                isChange
                  ? 'Why it is another one now, and who of them said so by another way than the file. Everybody can read it.'
                  : 'Where they publish it beside the file, or who of them read it to you. Everybody can read it.'
              }
              multiline
              required
              maxLength={500}
              defaultValue={value('reason')}
              error={error('reason')}
            />
            <SubmitButton pendingText="Accepting…">Accept this key</SubmitButton>
          </>
        )}
      </ActionForm>
      <ReasonForm
        action={refuse}
        snapshotId={snapshotId}
        label="Or why not"
        submitText="Do not accept it"
        formLabel={`Do not accept the key ${keyId}`}
      />
    </div>
  );
}

export function RemoveForm({ snapshotId, origin }: { snapshotId: string; origin: string }) {
  return (
    <details>
      <summary className="link inline-flex min-h-9 cursor-pointer items-center">
        Remove<span className="sr-only"> {origin}</span>
      </summary>
      <ReasonForm
        action={remove}
        snapshotId={snapshotId}
        label="Why its numbers go"
        submitText="Remove its numbers"
        formLabel={`Remove the numbers of ${origin}`}
      />
    </details>
  );
}

interface ReasonFormProps {
  action: typeof remove;
  snapshotId: string;
  label: string;
  submitText: string;
  formLabel: string;
}

function ReasonForm({ action, snapshotId, label, submitText, formLabel }: ReasonFormProps) {
  return (
    <ActionForm label={formLabel} action={action}>
      {({ value, error }) => (
        <>
          <input type="hidden" name="snapshotId" value={snapshotId} />
          <TextField
            name="reason"
            id={`${action.name}-reason-${snapshotId}`}
            label={label}
            hint="It stands in the audit log."
            multiline
            required
            maxLength={500}
            defaultValue={value('reason')}
            error={error('reason')}
          />
          <SubmitButton variant="danger" pendingText="Working…">
            {submitText}
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
