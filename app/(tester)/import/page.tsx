import type { Metadata } from 'next';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myImports } from '@/lib/registry/imports/importPage';
import { readView } from '../readView';
import { UploadSheet } from './UploadSheet';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Import runs' };

export default async function ImportPage() {
  const actor = await requireSignedIn('/import');
  const imports = await readView(myImports(registry(), actor));
  return (
    <>
      <PageHeader
        title="Import runs from a sheet"
        lead="Runs that you have on record elsewhere. First you see what each row would do; nothing is made before you say so, and it can be taken back."
      />
      <Section id="send" title="Send a sheet">
        <UploadSheet />
      </Section>
      <Section
        id="template"
        title="Start from a template"
        note="Its headings are recognised by themselves. Change the unit in a heading to the one you use."
      >
        <div className="flex flex-wrap gap-3">
          <LinkButton href="/import/template.xlsx" download>
            Template as XLSX
          </LinkButton>
          <LinkButton href="/import/template.csv" download>
            Template as CSV
          </LinkButton>
        </div>
        <p className="mt-4 max-w-[46rem] text-sm text-ink-soft">
          Imported runs count as recorded afterwards. The protocol says so in each run’s findings, and
          reviewers see it.
        </p>
      </Section>
      <Section id="earlier" title="Your imports">
        <DataTable
          caption="Your latest imports"
          captionHidden
          rows={imports}
          rowKey={(one) => one.id}
          empty="None yet."
          columns={[
            {
              key: 'file',
              header: 'File',
              rowHeader: true,
              cell: (one) => (
                <Link href={`/import/${one.id}`} className="link">
                  {one.fileName}
                </Link>
              ),
            },
            { key: 'state', header: 'State', cell: (one) => one.stateWords },
            { key: 'rows', header: 'Rows', align: 'end', cell: (one) => one.rowsRead },
            { key: 'made', header: 'Runs made', align: 'end', cell: (one) => one.rowsMade },
            { key: 'date', header: 'Sent', cell: (one) => <Day of={one.date} /> },
          ]}
        />
      </Section>
    </>
  );
}
