'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Day } from '@/app/ui/When';
import type { NoticeMailView } from '@/lib/registry/accounts/noticeMail';
import { chooseLetters } from './letterActions';

/** What of the notices goes by e-mail. */
export function LettersForm({ view }: { view: NoticeMailView }) {
  if (!view.isProved)
    return <p>Letters go to a confirmed address alone. Confirm yours above, then choose here.</p>;
  const options = [
    { value: 'none', label: 'No letters' },
    {
      value: 'each',
      label: 'As they come',
      hint: 'What happens within a few minutes is in one letter.',
    },
    {
      value: 'weekly',
      label: 'Once a week',
      hint: (
        <>
          On Mondays at 06:00 UTC, next on <Day of={view.nextDay} />. None where nothing happened.
        </>
      ),
    },
  ];
  return (
    <ActionForm label="Letters" action={chooseLetters}>
      {({ value, error }) => (
        <>
          <ChoiceField
            kind="radio"
            name="choice"
            label="Notices by e-mail"
            hint="Every letter has a link that ends them without signing in. What guards your account, such as a link to a new password, is sent whatever you choose."
            options={options}
            defaultValue={value('choice', view.choice)}
            error={error('choice')}
          />
          <SubmitButton variant="secondary" pendingText="Saving…">
            Save the choice
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
