import type { Metadata } from 'next';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { weatherPage } from '@/lib/registry/weather/fillWeather';
import { idOrNotFound, readView } from '../../../readView';
import { WeatherForm } from './WeatherForm';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Weather of a run' };

export default async function WeatherPage({ params }: { params: Promise<{ runId: string }> }) {
  const runId = idOrNotFound((await params).runId);
  const actor = await requireSignedIn(`/record/${runId}/weather`);
  const view = await readView(weatherPage(registry(), actor, runId));
  return (
    <>
      <PageHeader
        title={`Weather of run ${view.number}`}
        lead="Station reports are read, brought over the time of the run and put into its form."
        breadcrumbs={[
          { label: 'Record', href: '/record' },
          { label: `Run ${view.number}`, href: `/record/${runId}` },
          { label: 'Weather' },
        ]}
        actions={<LinkButton href={`/record/${runId}`}>Back to the form</LinkButton>}
      />
      <WeatherForm
        key={view.draftVersion}
        runId={runId}
        draftVersion={view.draftVersion}
        reports={view.reports}
        opened={view.opened}
        display={await readerDisplay()}
      />
    </>
  );
}
