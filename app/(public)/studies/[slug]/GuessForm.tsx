'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { GUESS_SIZE } from '@/lib/study/guess';
import { guess } from './actions';

interface GuessFormProps {
  studyId: string;
  slug: string;
  /** What was said before, in consumption; empty texts where nothing was. */
  own: { direction: string; size: string };
}

const DIRECTIONS = [
  { value: 'less', label: 'It uses less energy' },
  { value: 'more', label: 'It uses more energy' },
  { value: 'same', label: 'No difference' },
];

/** One guess, which can be changed until the study ends. */
export function GuessForm({ studyId, slug, own }: GuessFormProps) {
  return (
    <ActionForm action={guess} label="What do you expect?">
      {({ value, error }) => (
        <>
          <input type="hidden" name="studyId" value={studyId} />
          <input type="hidden" name="slug" value={slug} />
          <ChoiceField
            kind="radio"
            name="direction"
            label="Which way"
            required
            options={DIRECTIONS}
            defaultValue={value('direction', own.direction)}
            error={error('direction')}
          />
          <TextField
            name={GUESS_SIZE.name}
            label={GUESS_SIZE.label}
            hint={GUESS_SIZE.hint}
            inputMode="decimal"
            autoComplete="off"
            maxLength={10}
            defaultValue={value('size', own.size)}
            error={error('size')}
          />
          <SubmitButton>{own.direction === '' ? 'Guess' : 'Change my guess'}</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
