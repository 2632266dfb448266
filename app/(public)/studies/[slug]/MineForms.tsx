'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import type { StudyOfMine } from '@/lib/registry/studies/study';
import { dayWords } from '@/lib/run/localDate';
import { abandon, addDay, begin, complete, join } from './actions';

interface OfStudy {
  studyId: string;
  slug: string;
}

const BUTTONS = {
  begin: { action: begin, words: 'Begin: fix the plan' },
  complete: { action: complete, words: 'All is driven: complete it' },
  join: { action: join, words: 'Drive in this study' },
} as const;

function Named({ studyId, slug }: OfStudy) {
  return (
    <>
      <input type="hidden" name="studyId" value={studyId} />
      <input type="hidden" name="slug" value={slug} />
    </>
  );
}

export function StudyButton({ kind, of }: { kind: keyof typeof BUTTONS; of: OfStudy }) {
  const { action, words } = BUTTONS[kind];
  return (
    <OneButtonForm action={action} className="gap-3">
      <Named {...of} />
      <SubmitButton>{words}</SubmitButton>
    </OneButtonForm>
  );
}

export function AbandonForm({ of }: { of: OfStudy }) {
  return (
    <ActionForm action={abandon} label="Give the study up">
      {({ value, error }) => (
        <>
          <Named {...of} />
          <TextField
            name="reason"
            label="Why it is given up"
            hint="It stays beside the study, which stays listed with what was driven."
            required
            multiline
            rows={3}
            maxLength={1000}
            defaultValue={value('reason')}
            error={error('reason')}
          />
          <SubmitButton>Give the study up</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

export function AddDayForm({ of, days }: { of: OfStudy; days: StudyOfMine['days'] }) {
  return (
    <details className="mt-4">
      <summary className="disclosure">Add a day that you sent in already</summary>
      <ActionForm action={addDay} label="Add a day to the study">
        {({ value, error }) => (
          <>
            <Named {...of} />
            <ChoiceField
              name="sessionId"
              label="Day"
              hint="All of its runs that fit the plan, since a choice among them could be one by their results. They are marked as added by hand."
              options={days.map(({ sessionId, day, loop, car, runs }) => ({
                value: sessionId,
                label: `${dayWords(day)}, ${loop}, ${car}: ${runs} ${runs === 1 ? 'run' : 'runs'}`,
              }))}
              defaultValue={value('sessionId', days[0]?.sessionId)}
              error={error('sessionId')}
            />
            <SubmitButton>Add the day</SubmitButton>
          </>
        )}
      </ActionForm>
    </details>
  );
}
