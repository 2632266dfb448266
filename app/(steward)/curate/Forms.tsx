'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import type { CuratedThing } from '@/lib/registry/names/curation';
import { hide, merge, rename, renameOneLevel } from './actions';

type Help = Parameters<Parameters<typeof ActionForm>[0]['children']>[0];

function Reason({ id, help: { value, error } }: { id: string; help: Help }) {
  return (
    <TextField
      name="reason"
      id={id}
      label="Why"
      required
      maxLength={500}
      defaultValue={value('reason')}
      error={error('reason')}
    />
  );
}

export function RenameForm({ thing: { kind, slug, name, variant, words } }: { thing: CuratedThing }) {
  return (
    <ActionForm label={`Rename ${words}`} action={rename}>
      {(help) => (
        <>
          <input type="hidden" name="kind" value={kind} />
          <input type="hidden" name="slug" value={slug} />
          <input type="hidden" name="seenName" value={words} />
          <TextField
            name="name"
            label="Name"
            required
            maxLength={80}
            defaultValue={help.value('name', name)}
            error={help.error('name')}
          />
          {variant === undefined ? null : (
            <TextField
              name="variant"
              label="Variant"
              maxLength={80}
              defaultValue={help.value('variant', variant)}
              error={help.error('variant')}
            />
          )}
          <Reason id="rename-reason" help={help} />
          <SubmitButton pendingText="Renaming…">Rename</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

interface HideFormProps {
  kind: 'loop' | 'model' | 'level' | 'car';
  of: string;
  words: string;
  isHidden: boolean;
}

export function HideForm({ kind, of, words, isHidden }: HideFormProps) {
  return (
    <ActionForm label={`${isHidden ? 'List' : 'Hide'} ${words}`} action={hide}>
      {(help) => (
        <>
          <input type="hidden" name="kind" value={kind} />
          <input type="hidden" name="key" value={of} />
          <input type="hidden" name="to" value={isHidden ? 'shown' : 'hidden'} />
          <Reason id={`hide-reason-${of}`} help={help} />
          <SubmitButton variant="secondary" pendingText="Working…">
            {isHidden ? 'List again' : 'Hide'}
            <span className="sr-only"> {words}</span>
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

export function RenameLevelForm({ id, label }: { id: string; label: string }) {
  return (
    <ActionForm label={`Rename level ${label}`} action={renameOneLevel}>
      {(help) => (
        <>
          <input type="hidden" name="levelId" value={id} />
          <input type="hidden" name="seenName" value={label} />
          <TextField
            name="name"
            id={`name-${id}`}
            label="Name"
            required
            maxLength={80}
            defaultValue={help.value('name', label)}
            error={help.error('name')}
          />
          <Reason id={`reason-${id}`} help={help} />
          <SubmitButton variant="secondary" pendingText="Renaming…">
            Rename<span className="sr-only"> {label}</span>
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

export function MergeForm({
  kind,
  of,
  into,
  words,
}: {
  kind: string;
  of: string;
  into: string;
  words: string;
}) {
  return (
    <ActionForm label={words} action={merge}>
      {(help) => (
        <>
          <input type="hidden" name="kind" value={kind} />
          <input type="hidden" name="key" value={of} />
          <input type="hidden" name="intoKey" value={into} />
          <Reason id={`merge-reason-${of}`} help={help} />
          <SubmitButton variant="danger" pendingText="Merging…">
            {words}
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
