'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { declare } from './interestActions';

export function InterestForm() {
  return (
    <ActionForm action={declare} label="Declare an interest">
      {({ value, error }) => (
        <>
          <ChoiceField
            name="kind"
            label="Interest in"
            kind="radio"
            required
            defaultValue={value('kind')}
            error={error('kind')}
            options={[
              {
                value: 'account',
                label: 'An account',
                hint: 'A relative, a friend, somebody you work with.',
              },
              { value: 'maker', label: 'A maker', hint: 'You work for it, hold shares, or are paid by it.' },
              { value: 'model', label: 'A model' },
            ]}
          />
          <TextField
            name="name"
            label="Its name, or the address of its page"
            required
            maxLength={200}
            defaultValue={value('name')}
            error={error('name')}
          />
          <SubmitButton pendingText="Declaring…">Declare it</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
