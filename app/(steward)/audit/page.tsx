import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { PageHeader } from '@/app/ui/PageHeader';
import { Second, ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readAuditLog } from '@/lib/registry/audit/auditLog';

export const metadata: Metadata = { title: 'Audit log' };
export const dynamic = 'force-dynamic';

export default async function AuditPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const action = one(params, 'action');
  const log = await forRole(
    readAuditLog(registry(), await requireSignedIn('/audit'), { from: one(params, 'from'), action }),
  );
  return (
    <>
      <PageHeader
        title="Audit log"
        lead={`${log.total} entries, newest first. Entries are never changed or removed.`}
        meta={<ZoneNote />}
      />
      <Filters action="/audit">
        <ChoiceField
          name="action"
          label="Action"
          kind="select"
          emptyLabel="All"
          defaultValue={action}
          options={log.actions.map((value) => ({ value, label: value }))}
        />
      </Filters>
      <DataTable
        caption="Audit entries"
        captionHidden
        rows={log.rows}
        rowKey={(entry) => entry.id}
        columns={[
          {
            key: 'at',
            header: 'When',
            rowHeader: true,
            cell: (entry) => <Second at={entry.at} />,
          },
          { key: 'actor', header: 'Who', cell: (entry) => entry.actor },
          { key: 'action', header: 'What', cell: (entry) => entry.action },
          { key: 'subject', header: 'On', cell: (entry) => entry.subject },
          { key: 'details', header: 'Details', wide: true, cell: (entry) => entry.details },
        ]}
      />
      <KeysetPages
        {...log}
        label="Pages of the audit log"
        hrefFor={(from) => hrefWith('/audit', params, { from })}
      />
    </>
  );
}
