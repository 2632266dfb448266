import { DataTable } from '@/app/ui/DataTable';
import { PageContents } from '@/app/ui/PageContents';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { type Column, type Reference, SOURCES, type Table } from '@/lib/openData/column';
import { TABLES } from '@/lib/openData/tables/allTables';

export const metadata = pageMetadata('columns');

/** The dictionary of the data: the one table of columns that snapshots are written and verified by. */
export default function ColumnsPage() {
  return (
    <>
      <PageHeader
        breadcrumbs={[{ href: '/data', label: 'Data' }, { label: 'Columns' }]}
        title="What each column is"
        lead="The tables of a snapshot, each in a CSV and in a JSON Lines file of the same rows. Units end the names; shares and ratios have the unit 1."
      />
      <PageContents
        parts={TABLES.map((table) => ({
          id: table.name,
          title: table.title,
          section: <Columns table={table} />,
        }))}
      />
    </>
  );
}

function Columns({ table }: { table: Table }) {
  return (
    <Section id={table.name} title={table.title} wide note={table.says}>
      <DataTable
        caption={<TableFacts table={table} />}
        rows={table.columns}
        rowKey={({ name }) => name}
        columns={[
          { key: 'name', header: 'Column', rowHeader: true, cell: ({ name }) => <code>{name}</code> },
          { key: 'says', header: 'What it is', wide: true, answer: true, cell: ({ says }) => says },
          { key: 'unit', header: 'Unit', cell: ({ unit }) => unit ?? '–' },
          { key: 'type', header: 'Type', cell: typeWords },
          { key: 'source', header: 'Source', wide: true, cell: ({ source }) => SOURCES[source] },
        ]}
      />
    </Section>
  );
}

function typeWords({ type, isRequired }: Column): string {
  return isRequired ? type : `${type}, may be empty`;
}

function TableFacts({ table: { name, key, refersTo } }: { table: Table }) {
  return (
    <>
      <code>{name}</code>, one row each {key.join(', ')}
      {refersTo.length === 0 ? null : `; refers to ${refersTo.map(referenceWords).join(', ')}`}
    </>
  );
}

function referenceWords({ columns, table }: Reference): string {
  return `${table} by ${columns.join(', ')}`;
}
