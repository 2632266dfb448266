import type { Metadata } from 'next';
import { DataTable } from '@/app/ui/DataTable';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readPeople } from '@/lib/registry/accounts/people';
import { RoleForm } from './RoleForm';

export const metadata: Metadata = { title: 'People' };
export const dynamic = 'force-dynamic';

export default async function PeoplePage() {
  const people = await forRole(readPeople(registry(), await requireSignedIn('/people')));
  return (
    <>
      <PageHeader
        title="People"
        lead="Roles take effect at the next request; the account has to sign in again."
      />
      <DataTable
        caption="Accounts"
        captionHidden
        rows={people}
        rowKey={(person) => person.id}
        columns={[
          {
            key: 'name',
            header: 'Name',
            rowHeader: true,
            cell: (person) => `${person.displayName}${person.world === 'demo' ? ' (demo)' : ''}`,
          },
          { key: 'email', header: 'E-mail', cell: (person) => person.email ?? 'erased' },
          { key: 'runs', header: 'Runs', align: 'end', cell: (person) => person.runs },
          { key: 'decisions', header: 'Decisions', align: 'end', cell: (person) => person.decisions },
          {
            key: 'role',
            header: 'Role',
            cell: (person) =>
              person.isSelf ? (
                `${person.role} (you)`
              ) : (
                <RoleForm accountId={person.id} name={person.displayName} role={person.role} />
              ),
          },
        ]}
      />
    </>
  );
}
