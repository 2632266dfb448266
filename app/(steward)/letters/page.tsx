import type { Metadata } from 'next';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Minute, ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readLetters } from '@/lib/registry/accounts/mail';

export const metadata: Metadata = { title: 'Letters' };
export const dynamic = 'force-dynamic';

export default async function LettersPage() {
  const letters = await forRole(readLetters(registry(), await requireSignedIn('/letters')));
  return (
    <>
      <PageHeader
        title="Letters"
        meta={`${letters.total} ${letters.total === 1 ? 'waits' : 'wait'}`}
        lead="Letters to people that were not sent yet: to whom and what about. What they say is for the people alone, as it opens accounts."
      />
      {letters.isSent ? null : (
        <Notice kind="info" title="No mail server is set.">
          Letters wait as files in the folder “mail” of the data folder, where whoever runs the server can
          hand them on. After seven days they are forgotten.
        </Notice>
      )}
      {letters.rows.length === 0 ? (
        <EmptyState title="None waits." />
      ) : (
        <DataTable
          caption={<ZoneNote />}
          rows={letters.rows}
          rowKey={({ name }) => name}
          columns={[
            { key: 'to', header: 'To', rowHeader: true, cell: ({ to }) => to },
            { key: 'subject', header: 'About', cell: ({ subject }) => subject },
            { key: 'at', header: 'Written', cell: ({ writtenAt }) => <Minute at={writtenAt} /> },
            { key: 'tries', header: 'Failed', align: 'end', cell: ({ tries }) => tries },
            { key: 'problem', header: 'Why', cell: ({ problem }) => problem },
          ]}
        />
      )}
    </>
  );
}
