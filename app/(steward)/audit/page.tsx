import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { Filters } from '@/app/ui/Filters';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { ENTRY_COLUMNS } from './entryColumns';
import { SealNote } from './SealNote';

export const metadata: Metadata = { title: 'Audit log' };
export const dynamic = 'force-dynamic';

export default async function AuditPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const [action, person, run] = [one(params, 'action'), one(params, 'person'), one(params, 'run')];
  const log = await forRole(
    readAuditLog(registry(), await requireSignedIn('/audit'), {
      from: one(params, 'from'),
      action,
      person,
      run,
    }),
  );
  const several = log.people !== undefined && log.people.length > 1 ? log.people : [];
  return (
    <>
      <PageHeader
        title="Audit log"
        lead={`${log.total} ${log.total === 1 ? 'entry' : 'entries'}, newest first. Entries are never changed or removed.`}
        meta={<ZoneNote />}
      />
      <SealNote {...log.seal} />
      <Filters action="/audit" label="Find entries" resetHref="/audit">
        <TextField
          name="person"
          label="Person"
          hint="By them, or about their account"
          defaultValue={person}
          maxLength={100}
        />
        <TextField name="run" label="Run" hint="Its number" defaultValue={run} maxLength={20} />
        <ChoiceField
          name="action"
          label="Act"
          kind="select"
          emptyLabel="All"
          defaultValue={action}
          options={log.actions}
        />
      </Filters>
      {several.length > 0 ? (
        <nav aria-label="People of that name">
          <p>Several people are called so. Choose one:</p>
          <ul className="mt-2 list-disc pl-5">
            {several.map(({ displayName, slug }) => (
              <li key={slug}>
                <Link href={hrefWith('/audit', params, { person: slug, from: undefined })}>
                  {displayName}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
      ) : log.rows.length === 0 ? (
        <EmptyState title={emptyWords(log.people?.length, run)}>
          Try part of a name, or another run or act.
        </EmptyState>
      ) : (
        <DataTable
          caption="Audit entries"
          captionHidden
          rows={log.rows}
          rowKey={(entry) => entry.id}
          columns={ENTRY_COLUMNS}
        />
      )}
      <KeysetPages
        {...log}
        label="Pages of the audit log"
        hrefFor={(from) => hrefWith('/audit', params, { from })}
      />
    </>
  );
}

function emptyWords(people: number | undefined, run: string | undefined): string {
  if (people === 0) return 'Nobody is called so.';
  return run === undefined ? 'No entry is of that kind.' : 'No entry is of that run.';
}
