import type { PlanFormView } from '@/lib/registry/studies/planForm';

/** What is planned of, in a line. */
export function PlanLead({ view }: { view: Pick<PlanFormView, 'model' | 'loop' | 'cruiseClass'> }) {
  return (
    <>
      {view.model}, on {view.loop}, at {view.cruiseClass.label}. Change one thing and hold the rest.
    </>
  );
}
