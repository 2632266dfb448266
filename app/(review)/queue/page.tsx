import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { requireSignedIn } from '@/app/session/actor';
import { problemOf } from '@/app/session/problem';
import { registry } from '@/app/session/registry';
import { PageHeader } from '@/app/ui/PageHeader';
import { Pagination } from '@/app/ui/Pagination';
import { type QueueView, readQueue } from '@/lib/registry/views/queue';
import { DecidedNotice } from '../DecidedNotice';
import { Refused } from '../Refused';
import { QueueFilters } from './QueueFilters';
import { QueueTable } from './QueueTable';

export const metadata: Metadata = { title: 'Review queue' };
export const dynamic = 'force-dynamic';

export default async function QueuePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const actor = await requireSignedIn('/queue');
  let view: QueueView;
  try {
    view = await readQueue(registry(), actor, {
      page: Number(one(params, 'page') ?? 1),
      classKey: one(params, 'class'),
      model: one(params, 'model'),
      loop: one(params, 'loop'),
      claim: one(params, 'claim'),
    });
  } catch (error) {
    return <Refused title="Review queue" problem={problemOf(error)} />;
  }
  return (
    <>
      <PageHeader
        title="Review queue"
        lead="Runs that wait for a decision, the oldest first. Claim one before you decide, so that nobody else reads it in vain."
        meta={`${view.total} waiting`}
      />
      <DecidedNotice decided={one(params, 'decided')} />
      <QueueFilters view={view} params={params} />
      <QueueTable rows={view.rows} />
      <Pagination
        label="Pages of the queue"
        page={view.page}
        pageCount={view.pages}
        hrefFor={(page) => hrefWith('/queue', params, { page: page === 1 ? undefined : String(page) })}
      />
    </>
  );
}
