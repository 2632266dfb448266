import { Link } from '@/app/ui/Link';
import type { PlanFormView } from '@/lib/registry/studies/planForm';

/** What is planned of, in a line, and what readers asked for where it answers that. */
export function PlanLead({
  view,
}: {
  view: Pick<PlanFormView, 'model' | 'loop' | 'cruiseClass'> & Partial<Pick<PlanFormView, 'request'>>;
}) {
  return (
    <>
      {view.model}, on {view.loop}, at {view.cruiseClass.label}. Change one thing and hold the rest.
      {view.request === undefined ? null : (
        <>
          {' '}
          <Link className="link" href={`/requests/${view.request.id}`}>
            Readers asked for it
          </Link>
          , and are told when you begin.
        </>
      )}
    </>
  );
}
