import { LinkButton } from '@/app/ui/LinkButton';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { statusAfter } from '@/lib/run/runStatus';
import { Withdraw } from './Withdraw';

/** What can be done with a run that was sent. */
export function SentActions({ view }: { view: RecordFormView }) {
  return (
    <>
      <LinkButton href={`/runs/${view.number}`}>The run’s page</LinkButton>
      {statusAfter(view.status, 'withdraw') === undefined ? null : <Withdraw runId={view.runId} />}
    </>
  );
}
