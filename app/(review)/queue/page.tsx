import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';

import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { countOpenCorrections } from '@/lib/registry/corrections/corrections';
import { readQueue } from '@/lib/registry/review/queue';
import { readOpenReReviews } from '@/lib/registry/review/reReview';
import { DecidedNotice } from '../DecidedNotice';
import { QueueFilters } from './QueueFilters';
import { QueueTable } from './QueueTable';
import { ReadAgain } from './ReadAgain';

export const metadata: Metadata = { title: 'Review queue' };
export const dynamic = 'force-dynamic';

function OpenCorrections({ open }: { open: number }) {
  if (open === 0) return null;
  return (
    <p className="mb-4">
      <Link className="link" href="/corrections">
        {open === 1 ? 'One correction is open' : `${open} corrections are open`}
      </Link>{' '}
      beside them.
    </p>
  );
}

export default async function QueuePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const actor = await requireSignedIn('/queue');
  const view = await forRole(
    readQueue(registry(), actor, {
      from: one(params, 'from'),
      classKey: one(params, 'class'),
      model: one(params, 'model'),
      loop: one(params, 'loop'),
      claim: one(params, 'claim'),
      waits: one(params, 'waits'),
    }),
  );
  return (
    <>
      <PageHeader
        title="Review queue"
        lead="Runs that wait for a decision, the oldest first. Claim one before you decide, so that nobody else reads it in vain."
        meta={`${view.total} waiting`}
      />
      <DecidedNotice decided={one(params, 'decided')} />
      <ReadAgain rows={await readOpenReReviews(registry(), actor)} />
      <OpenCorrections open={await countOpenCorrections(registry(), actor)} />
      <QueueFilters view={view} params={params} />
      <QueueTable rows={view.rows} />
      <KeysetPages
        {...view}
        label="Pages of the queue"
        hrefFor={(from) => hrefWith('/queue', params, { from, decided: undefined })}
      />
    </>
  );
}
