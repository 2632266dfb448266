import type { Metadata } from 'next';
import { notFound, redirect } from 'next/navigation';
import { hrefWith, one, ownUnitHref, type SearchParams } from '@/app/(public)/rankings/query';
import { runNumber } from '@/app/runDossier/runNumber';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { snapshotToCite } from '@/lib/registry/openData/snapshots';
import { readRun } from '@/lib/registry/runs/run';
import { draftOfRun } from '@/lib/registry/runs/runDraft';
import { readRunTrace } from '@/lib/registry/traces/runTrace';
import { RunReport } from './RunReport';

export const dynamic = 'force-dynamic';

interface RunPageProps {
  params: Promise<{ number: string }>;
  searchParams: Promise<SearchParams>;
}

export async function generateMetadata({ params }: RunPageProps): Promise<Metadata> {
  const number = runNumber((await params).number);
  if (number === undefined) return { title: 'Run not found' };
  return pageMetadata('runs', {
    title: `Run ${number}`,
    path: `/runs/${number}`,
    figure: { kind: 'adjustment', key: String(number) },
  });
}

export default async function RunPage({ params, searchParams }: RunPageProps) {
  const number = runNumber((await params).number);
  if (number === undefined) notFound();
  const query = await searchParams;
  const actor = await signedIn();
  const view = await readRun(registry(), actor, number, {
    withSimulation: one(query, 'check') === 'monte-carlo',
    logFrom: one(query, 'log'),
  });
  if (view === undefined) {
    const runId = await draftOfRun(registry(), actor, number);
    if (runId !== undefined) redirect(`/record/${runId}`);
    notFound();
  }
  const [trace, snapshot] = await Promise.all([
    readRunTrace(registry(), actor, view),
    snapshotToCite(registry(), view.world),
  ]);
  return (
    <RunReport
      view={view}
      trace={trace}
      snapshot={snapshot}
      isSent={one(query, 'notice') === 'sent'}
      display={await readerDisplay(query)}
      ownUnitHref={ownUnitHref(`/runs/${number}`, query)}
      hrefFor={(changes) => hrefWith(`/runs/${number}`, query, { notice: undefined, ...changes })}
    />
  );
}
