import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { Findings } from '@/app/runDossier/Findings';
import { Headline } from '@/app/runDossier/Headline';
import { photoName } from '@/app/runDossier/Photos';
import { runNumber } from '@/app/runDossier/runNumber';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readReReview } from '@/lib/registry/review/reReview';
import { PhotoDesk } from '../../review/[number]/PhotoDesk';
import { ReadingsBeside } from '../../review/[number]/ReadingsBeside';
import { AgainForm } from './AgainForm';

export const metadata: Metadata = { title: 'Read again' };
export const dynamic = 'force-dynamic';

export default async function ReReviewPage({ params }: { params: Promise<{ number: string }> }) {
  const number = runNumber((await params).number);
  if (number === undefined) notFound();
  const actor = await requireSignedIn(`/re-review/${number}`);
  const { run } = await forRole(readReReview(registry(), actor, number));
  const display = await readerDisplay({});
  return (
    <>
      <PageHeader
        breadcrumbs={[{ label: 'Review queue', href: '/queue' }, { label: `Run ${run.number}, again` }]}
        title={`Run ${run.number}, read again`}
        lead="Its decision was drawn by lot. Decide as if it waited: yours is compared with the first one and changes nothing about the run. Its own page would tell you the first, so leave that closed."
      />
      {run.world === 'demo' ? <DemoMark /> : null}
      <Section id="findings" title="What the rules found" wide>
        <Findings findings={run.findings} display={display} />
      </Section>
      <Section id="number" title="Its number" wide>
        <Headline view={run} display={display} />
      </Section>
      <Section id="readings" title="Readings beside their photos" wide>
        <div className="grid gap-x-10 gap-y-8 lg:grid-cols-2">
          <ReadingsBeside readings={run.readings} photos={run.photos} />
          <PhotoDesk
            utcOffsetMin={run.subject.utcOffsetMin}
            photos={run.photos.map((photo) => ({ ...photo, name: photoName(photo, run.photos) }))}
          />
        </div>
      </Section>
      <Section id="decision" title="What you would decide" wide>
        <AgainForm runId={run.runId} number={run.number} />
      </Section>
    </>
  );
}
