'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import type { WorldKey } from '@/lib/run/world';
import { refitClass } from './actions';

/** For stewards: a fit of the class that the page shows, by the background. */
export function RefitForm({ cruiseClassKey, world }: { cruiseClassKey: string; world: WorldKey }) {
  return (
    <OneButtonForm action={refitClass} className="mt-4 gap-3">
      <input type="hidden" name="cruiseClassKey" value={cruiseClassKey} />
      <input type="hidden" name="world" value={world} />
      <SubmitButton variant="secondary">Fit this class again</SubmitButton>
    </OneButtonForm>
  );
}
