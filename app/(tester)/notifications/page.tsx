import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { NoticeList } from './NoticeList';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Notices' };

export default async function NotificationsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const from = one(params, 'from');
  const actor = await requireSignedIn('/notifications');
  const notices = await myNotifications(registry(), actor, from);
  return (
    <>
      <PageHeader
        title="Notices"
        meta={<ZoneNote />}
        lead={
          <>
            What happened to your runs, your studies and what you asked for. Opening this page marks them
            read.{' '}
            <Link href="/account#letters" className="link">
              By e-mail as well?
            </Link>
          </>
        }
      />
      {notices.rows.length === 0 ? (
        <EmptyState title="No notices">
          They appear when a run is decided, or a study that you have to do with begins, changes or ends.
        </EmptyState>
      ) : (
        <NoticeList key={from} notices={notices.rows} />
      )}
      <KeysetPages
        {...notices}
        label="Pages of notices"
        hrefFor={(cursor) => hrefWith('/notifications', params, { from: cursor })}
      />
    </>
  );
}
