'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { beginPlanned } from '../record/actions';

interface BeginPlannedProps {
  studyId: string;
  /** Made with the page, so that a double press begins one run. */
  creationKey: string;
  words: string;
}

/** One tap from the plan to the run: a draft of today with car, loop, speed and setup filled in. */
export function BeginPlanned({ studyId, creationKey, words }: BeginPlannedProps) {
  return (
    <OneButtonForm action={beginPlanned} className="mt-2 gap-3">
      <input type="hidden" name="studyId" value={studyId} />
      <input type="hidden" name="creationKey" value={creationKey} />
      <SubmitButton pendingText="Opening…">{words}</SubmitButton>
    </OneButtonForm>
  );
}
