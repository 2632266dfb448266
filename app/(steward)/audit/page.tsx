import type { Metadata } from 'next';
import { DataTable } from '@/app/ui/DataTable';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { PageHeader } from '@/app/ui/PageHeader';
import { Pagination } from '@/app/ui/Pagination';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readAuditLog } from '@/lib/registry/audit/auditLog';

export const metadata: Metadata = { title: 'Audit log' };
export const dynamic = 'force-dynamic';

interface AuditPageProps {
  searchParams: Promise<{ page?: string; action?: string }>;
}

export default async function AuditPage({ searchParams }: AuditPageProps) {
  const { page = '1', action = '' } = await searchParams;
  const log = await forRole(
    readAuditLog(registry(), await requireSignedIn('/audit'), { page: Number(page), action }),
  );
  const hrefOf = (to: number) =>
    `/audit?${new URLSearchParams({ ...(action ? { action } : {}), page: String(to) })}`;
  return (
    <>
      <PageHeader
        title="Audit log"
        lead={`${log.total} entries, newest first. Entries are never changed or removed.`}
      />
      <Filters action="/audit">
        <ChoiceField
          name="action"
          label="Action"
          kind="select"
          emptyLabel="All"
          defaultValue={action}
          options={log.actions.map((one) => ({ value: one, label: one }))}
        />
      </Filters>
      <DataTable
        caption="Audit entries"
        captionHidden
        rows={log.entries}
        rowKey={(entry) => entry.id}
        columns={[
          {
            key: 'at',
            header: 'When (UTC)',
            rowHeader: true,
            cell: (entry) => entry.at.replace('T', ' ').slice(0, 19),
          },
          { key: 'actor', header: 'Who', cell: (entry) => entry.actor },
          { key: 'action', header: 'What', cell: (entry) => entry.action },
          { key: 'subject', header: 'On', cell: (entry) => entry.subject },
          { key: 'details', header: 'Details', wide: true, cell: (entry) => entry.details },
        ]}
      />
      <Pagination page={log.page} pageCount={log.pages} hrefFor={hrefOf} label="Pages of the audit log" />
    </>
  );
}
