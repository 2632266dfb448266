import { hrefWith, one, ownUnitHref, type SearchParams } from '@/app/(public)/rankings/query';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';

import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readRunList } from '@/lib/registry/runs/runList';
import { RunFilters } from './RunFilters';
import { RunsTable } from './RunsTable';

export const metadata = pageMetadata('runs');
export const dynamic = 'force-dynamic';

export default async function RunsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const display = await readerDisplay(params);
  const view = await readRunList(registry(), {
    from: one(params, 'from'),
    classKey: one(params, 'class'),
    model: one(params, 'model'),
    loop: one(params, 'loop'),
    tester: one(params, 'tester'),
    state: one(params, 'state'),
  });
  const hrefFor = (changes: Record<string, string | undefined>) => hrefWith('/runs', params, changes);
  return (
    <>
      <PageHeader
        title="Runs"
        lead="Every published run, the latest first: what it used at reference conditions, with its 95 % interval. Those taken back or replaced stay readable."
        meta={`${view.total} ${view.total === 1 ? 'run' : 'runs'}`}
      />
      {view.hasDemo ? <DemoMark /> : null}
      <RunFilters view={view} params={params} />
      <UnitNote unit={display.consumption} ownHref={ownUnitHref('/runs', params)} />
      {view.rows.length === 0 ? (
        <EmptyState title="No published run matches these filters.">
          Take a filter away, or go back to the first page.
        </EmptyState>
      ) : (
        <RunsTable runs={view.rows} display={display} />
      )}
      <KeysetPages {...view} label="Pages of runs" hrefFor={(from) => hrefFor({ from })} />
    </>
  );
}
