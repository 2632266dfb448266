'use client';

import type { ReactNode } from 'react';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { askDryRun, discard, takeBack } from '../actions';

const ACTS = { askDryRun, discard, takeBack };

interface DraftButtonProps {
  act: keyof typeof ACTS;
  draftId: string;
  revision: number;
  children: ReactNode;
}

/** What is done to a draft by one press, as the steward sees it. */
export function DraftButton({ act, draftId, revision, children }: DraftButtonProps) {
  return (
    <OneButtonForm action={ACTS[act]} className="mt-4 gap-3">
      <input type="hidden" name="draftId" value={draftId} />
      <input type="hidden" name="revision" value={revision} />
      <SubmitButton variant="secondary">{children}</SubmitButton>
    </OneButtonForm>
  );
}
