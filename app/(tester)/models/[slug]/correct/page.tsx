import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { dataSheetForm } from '@/lib/capture/vehicleFields';
import { modelForCorrection } from '@/lib/registry/models/correctModel';
import { readView } from '../../../readView';
import { CorrectModel } from './CorrectModel';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Correct a model' };

export default async function CorrectModelPage({ params }: { params: Promise<{ slug: string }> }) {
  const { slug } = await params;
  await leadOn('model', slug, '/correct');
  const actor = await requireSignedIn(`/models/${slug}/correct`);
  const model = await readView(modelForCorrection(registry(), actor, slug));
  return (
    <>
      <PageHeader
        title="Correct a data sheet"
        meta={model.words}
        lead="Puts right what the registry has the maker say. Runs of cars that took such a value are corrected with it, once a reviewer has approved that."
        breadcrumbs={[
          { label: 'Models', href: '/models' },
          { label: model.words, href: `/models/${model.slug}` },
          { label: 'Correct' },
        ]}
      />
      {model.world === 'demo' ? <DemoMark /> : null}
      <CorrectModel slug={model.slug} values={dataSheetForm(model)} />
    </>
  );
}
