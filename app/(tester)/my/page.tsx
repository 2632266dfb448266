import type { Metadata } from 'next';
import { EmptyState } from '@/app/ui/EmptyState';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { RUN_STATUS_LABELS, type RunStatus } from '@/lib/run/runStatus';
import { readView } from '../readView';
import { RunTable } from './RunTable';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'My runs' };

/** What needs the tester's hand comes first. */
const ORDER: readonly RunStatus[] = [
  'changesAsked',
  'draft',
  'submitted',
  'approved',
  'rejected',
  'retracted',
  'superseded',
];

export default async function MyPage() {
  const actor = await requireSignedIn('/my');
  const runs = await readView(myRuns(registry(), actor));
  const filled = ORDER.filter((status) => runs[status].length > 0);
  return (
    <>
      <PageHeader
        title="My runs"
        lead="Your runs by state, each with what comes next."
        actions={
          <>
            <LinkButton href="/record" variant="primary">
              Record a run
            </LinkButton>
            <LinkButton href="/my/cars">My cars</LinkButton>
            <LinkButton href="/my/loops/new">Add a loop</LinkButton>
          </>
        }
      />
      {filled.length === 0 ? (
        <EmptyState title="No runs yet">Add a car and a loop, then record the first run.</EmptyState>
      ) : null}
      {filled.map((status) => (
        <Section
          key={status}
          id={status}
          wide
          title={`${RUN_STATUS_LABELS[status]} (${runs[status].length})`}
        >
          <RunTable caption={RUN_STATUS_LABELS[status]} runs={runs[status]} />
        </Section>
      ))}
    </>
  );
}
