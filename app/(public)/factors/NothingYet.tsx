import { EmptyState } from '@/app/ui/EmptyState';

/** Where no class has been fitted. */
export function NothingYet() {
  return (
    <EmptyState title="Nothing can be answered yet.">
      Answers come with the first approved runs of a car that was driven with and without a change.
    </EmptyState>
  );
}
