import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { runNumber } from '@/app/runDossier/runNumber';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { runForCorrection } from '@/lib/registry/runs/correctRun';
import { readView } from '../../../readView';
import { CorrectRun } from './CorrectRun';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Correct a run' };

export default async function CorrectRunPage({ params }: { params: Promise<{ number: string }> }) {
  const number = runNumber((await params).number);
  if (number === undefined) notFound();
  const actor = await requireSignedIn(`/runs/${number}/correct`);
  const view = await readView(runForCorrection(registry(), actor, number));
  return (
    <>
      <PageHeader
        title={`Correct run ${number}`}
        lead="For what was misread or mistyped. The run goes on counting as it is until a reviewer has approved the correction; car, setup, loop, class, day and photos stay."
        breadcrumbs={[
          { label: 'Runs', href: '/runs' },
          { label: `Run ${number}`, href: `/runs/${number}` },
          { label: 'Correct' },
        ]}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <CorrectRun view={view} />
    </>
  );
}
