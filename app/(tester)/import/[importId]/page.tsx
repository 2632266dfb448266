import type { Metadata } from 'next';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { importPage } from '@/lib/registry/imports/importPage';
import { idOrNotFound, readView } from '../../readView';
import { FailingRules } from './FailingRules';
import { ChooseSheet, StartImport } from './ImportForms';
import { MapColumns } from './MapColumns';
import { RepeatedFaults } from './RepeatedFaults';
import { RowsTable } from './RowsTable';
import { Standing } from './Standing';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Import runs' };

interface OneImportPageProps {
  params: Promise<{ importId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function OneImportPage({ params, searchParams }: OneImportPageProps) {
  const importId = idOrNotFound((await params).importId);
  const actor = await requireSignedIn(`/import/${importId}`);
  const query = await searchParams;
  const outcome = ['create', 'failing', 'matched', 'refused'].find((one) => one === query.outcome);
  const page = Number(query.page) || 1;
  const view = await readView(importPage(registry(), actor, importId, { outcome, page }));
  const isChecked = view.state === 'checked';
  const missing =
    view.mapper === undefined
      ? 0
      : [...view.mapper.habits, ...view.mapper.sections.flatMap(({ fields }) => fields)].filter(
          ({ problem }) => problem,
        ).length;
  return (
    <>
      <PageHeader
        title={view.fileName}
        breadcrumbs={[{ label: 'Import', href: '/import' }, { label: view.fileName }]}
        meta={
          <>
            <span>{view.stateWords}</span>
            <span className="num">{view.rowsRead} rows</span>
          </>
        }
      />
      <Standing view={view} />
      {missing > 0 ? (
        <Notice
          kind="problem"
          title={
            missing === 1 ? 'One thing is missing or unclear.' : `${missing} things are missing or unclear.`
          }
          live
        >
          They are marked below. Nothing has been read yet.
        </Notice>
      ) : null}
      {isChecked && view.counts.create > 0 ? (
        <Section
          id="import"
          title="Import"
          note="Each run is made and sent for review as if typed in the form. Results and findings below are what a submission would make of each row now."
        >
          <StartImport importId={view.id} counts={view.counts} judged={view.judged} />
        </Section>
      ) : null}
      {view.state === 'mapping' || view.state === 'checking' ? null : (
        <Section id="rows" title={isChecked ? 'What each row would do' : 'What each row did'} wide>
          <RepeatedFaults faults={view.repeated} mapper={view.mapper} />
          {isChecked ? <FailingRules judged={view.judged} rows={view.counts.create} /> : null}
          <RowsTable view={view} outcome={outcome} display={await readerDisplay()} />
        </Section>
      )}
      {view.mapper ? (
        <Section
          id="columns"
          title="Columns"
          note="Which column feeds which field, and in which unit. It is remembered for the next sheet with these headings."
        >
          <ChooseSheet
            key={`${view.sheetName} ${view.mapper.headings.chosen}`}
            importId={view.id}
            sheetName={view.sheetName}
            sheetNames={view.sheetNames}
            headings={view.mapper.headings}
          />
          <MapColumns
            key={`${view.sheetName} ${view.mapper.headings.chosen} ${view.state}`}
            importId={view.id}
            mapper={view.mapper}
            submitText={isChecked ? 'Check again' : 'Check every row'}
          />
        </Section>
      ) : null}
    </>
  );
}
