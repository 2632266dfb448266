import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { may } from '@/lib/access/permissions';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { latestDays } from '@/lib/registry/sessionSheets/latestDays';
import { RUN_STATUS_LABELS, type RunStatus } from '@/lib/run/runStatus';
import { readView } from '../readView';
import { LatestDays } from '../record/LatestDays';
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

export default async function MyPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const wanted = ORDER.filter((status) => status === one(params, 'state'));
  const actor = await requireSignedIn('/my');
  const runs = await readView(
    myRuns(registry(), actor, {
      statuses: wanted.length > 0 ? wanted : ORDER,
      from: one(params, 'from'),
    }),
  );
  const days = may(actor, 'recordRun') ? (await latestDays(registry(), actor)).days : [];
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
      {wanted.length === 0 && days.length > 0 ? (
        <Section id="days" title="Latest days">
          <LatestDays days={days} />
        </Section>
      ) : null}
      {wanted.length > 0 ? (
        <p>
          <Link className="link" href="/my">
            All states
          </Link>
        </p>
      ) : null}
      {runs.counts.size === 0 ? (
        <EmptyState title="No runs yet">Add a car and a loop, then record the first run.</EmptyState>
      ) : runs.pages.length === 0 ? (
        <EmptyState title="No run in this state." />
      ) : null}
      {runs.pages.map(({ status, page }) => (
        <Section
          key={status}
          id={status}
          wide
          title={`${RUN_STATUS_LABELS[status]} (${runs.counts.get(status) ?? 0})`}
        >
          <RunTable caption={RUN_STATUS_LABELS[status]} runs={page.rows} />
          <KeysetPages
            {...page}
            label={`Pages of runs: ${RUN_STATUS_LABELS[status]}`}
            hrefFor={(from) => hrefWith('/my', params, { state: status, from })}
          />
        </Section>
      ))}
    </>
  );
}
