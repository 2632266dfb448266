import type { Metadata } from 'next';
import { EmptyState } from '@/app/ui/EmptyState';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { NoticeList } from './NoticeList';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Notices' };

export default async function NotificationsPage() {
  const actor = await requireSignedIn('/notifications');
  const notices = await myNotifications(registry(), actor);
  return (
    <>
      <PageHeader
        title="Notices"
        lead="What reviewers decided on your runs. Opening this page marks them read."
      />
      {notices.length === 0 ? (
        <EmptyState title="No notices">They appear when a run is decided.</EmptyState>
      ) : (
        <NoticeList notices={notices} />
      )}
    </>
  );
}
