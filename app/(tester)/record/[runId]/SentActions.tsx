import { randomUUID } from 'node:crypto';
import { LinkButton } from '@/app/ui/LinkButton';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { statusAfter } from '@/lib/run/runStatus';
import { ContinueDay } from '../ContinueDay';
import { Withdraw } from './Withdraw';

/** What can be done with a run that was sent. */
export function SentActions({ view }: { view: RecordFormView }) {
  return (
    <>
      <LinkButton href={`/runs/${view.number}`}>The run’s page</LinkButton>
      <ContinueDay runId={view.runId} creationKey={randomUUID()} />
      {statusAfter(view.status, 'withdraw') === undefined ? null : <Withdraw runId={view.runId} />}
    </>
  );
}
