import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { loopChoice } from '@/lib/registry/runs/chooseLoop';
import { showQuantity } from '@/lib/units/show';
import { idOrNotFound, readView } from '../../../readView';
import { LoopList } from './LoopList';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Loop of a run' };

interface LoopPageProps {
  params: Promise<{ runId: string }>;
  searchParams: Promise<SearchParams>;
}

/** Every loop there is, by name and region, for the run whose form offers the first of them only. */
export default async function LoopPage({ params, searchParams }: LoopPageProps) {
  const runId = idOrNotFound((await params).runId);
  const path = `/record/${runId}/loop`;
  const actor = await requireSignedIn(path);
  const query = await searchParams;
  const display = await readerDisplay();
  const text = one(query, 'q');
  const view = await readView(loopChoice(registry(), actor, runId, { text, from: one(query, 'from') }));
  const { loops } = view;
  return (
    <>
      <PageHeader
        title={`Loop of run ${view.number}`}
        meta={`${loops.total} ${loops.total === 1 ? 'loop' : 'loops'}`}
        breadcrumbs={[
          { label: 'Record', href: '/record' },
          { label: `Run ${view.number}`, href: `/record/${runId}` },
          { label: 'Loop' },
        ]}
        actions={<LinkButton href={`/record/${runId}#part-loop`}>Back to the form</LinkButton>}
      />
      <Filters action={path} label="Find a loop" submitText="Find" resetHref={path}>
        <TextField name="q" label="Name or region" defaultValue={text} maxLength={100} />
      </Filters>
      {loops.rows.length === 0 ? <p role="status">No loop has this in its name or region.</p> : null}
      <LoopList
        key={view.draftVersion}
        runId={runId}
        draftVersion={view.draftVersion}
        loops={loops.rows.map(({ id, name, region, lengthM, postedLimitMps }) => ({
          id,
          name,
          isChosen: id === view.chosenId,
          details: `${region}. ${showQuantity(lengthM, 'distance', display, { decimals: 1 })} out and back, posted limit ${showQuantity(postedLimitMps, 'speed', display, { decimals: 0 })}.`,
        }))}
      />
      <KeysetPages {...loops} label="Pages of loops" hrefFor={(from) => hrefWith(path, query, { from })} />
    </>
  );
}
