'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { saveVideoTimes } from './actions';

interface TimesFormProps {
  studyId: string;
  runs: readonly { name: string; words: string; shown: string }[];
}

/** Where each run of one's own begins in one's video. */
export function TimesForm({ studyId, runs }: TimesFormProps) {
  return (
    <ActionForm action={saveVideoTimes} label="Where your runs begin in your video">
      {({ value, error }) => (
        <>
          <input type="hidden" name="studyId" value={studyId} />
          <p className="text-sm text-ink-soft">
            As minutes and seconds, such as 3:07, or from an hour on as 1:23:07. Empty where a run is not in
            the video.
          </p>
          {runs.map(({ name, words, shown }) => (
            <TextField
              key={name}
              name={name}
              label={words}
              inputMode="text"
              maxLength={40}
              defaultValue={value(name, shown)}
              error={error(name)}
            />
          ))}
          <SubmitButton>Keep the times</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
