'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { describe } from '../actions';
import { WordsFields } from '../WordsFields';

interface DescribeFormProps {
  draftId: string;
  revision: number;
  label: string;
  summary: string;
}

export function DescribeForm({ draftId, revision, label, summary }: DescribeFormProps) {
  return (
    <ActionForm action={describe} label="Label and summary">
      {(help) => (
        <>
          <input type="hidden" name="draftId" value={draftId} />
          <input type="hidden" name="revision" value={revision} />
          <WordsFields help={help} label={label} summary={summary} />
          <SubmitButton variant="secondary">Save label and summary</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}
