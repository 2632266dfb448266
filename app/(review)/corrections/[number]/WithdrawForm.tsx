'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { withdraw } from './actions';

/** For who proposed it: nothing will change. */
export function WithdrawForm({ correctionId, number }: { correctionId: string; number: number }) {
  return (
    <OneButtonForm action={withdraw} className="mt-6 gap-3">
      <input type="hidden" name="correctionId" value={correctionId} />
      <input type="hidden" name="number" value={number} />
      <SubmitButton variant="secondary">Take the correction back</SubmitButton>
    </OneButtonForm>
  );
}
