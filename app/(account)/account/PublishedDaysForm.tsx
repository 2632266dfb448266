'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import type { PublishedDays } from '@/lib/run/publishedDay';
import { choosePublished } from './publishedDaysActions';

const OPTIONS = [
  { value: 'day', label: 'The day and the hour' },
  {
    value: 'month',
    label: 'No more than the month',
    hint: 'Pages, figures, feeds, files for programs and snapshots from then on say “Nov 2026”: of the drive, of its photos, and of when it was sent in and decided on.',
  },
];

/** What readers see of when runs were driven, and what that does not hide. */
export function PublishedDaysForm({ chosen }: { chosen: PublishedDays }) {
  return (
    <>
      <ActionForm label="Days of your runs" action={choosePublished}>
        {({ value, error }) => (
          <>
            <ChoiceField
              kind="radio"
              name="publishedDays"
              label="What readers see of when you drove"
              options={OPTIONS}
              defaultValue={value('publishedDays', chosen)}
              error={error('publishedDays')}
            />
            <SubmitButton variant="secondary" pendingText="Saving…">
              Save the choice
            </SubmitButton>
          </>
        )}
      </ActionForm>
      <h3 className="mt-6">What the month does not hide</h3>
      <ul className="mt-2 max-w-[38rem] list-disc space-y-1 pl-5 text-sm">
        <li>
          Snapshots that are published already keep the days that they had, and so does whatever others have
          copied or keep for a while.
        </li>
        <li>
          You, reviewers and stewards see day and hour: a run is checked by them. Whoever drives in a study
          with you has the days of its runs on their phone, to know what is next.
        </li>
        <li>
          Photos show what they show, a clock on a display too. Notes, and what was written about a run, stay
          as they were written.
        </li>
        <li>
          A study’s plan is public with its days, and so is when it began, which is when its first run was
          sent in. Its runs stand in the order of driving.
        </li>
        <li>
          Runs are numbered as they are begun, and whoever follows the registry sees when one comes to count.
          A run also shows by which versions of the protocol and the method it was judged and computed.
        </li>
        <li>
          Weather, odometer and what was driven together stay public: they narrow the day down, and somebody
          who looks for the weather of a place may find it.
        </li>
      </ul>
    </>
  );
}
