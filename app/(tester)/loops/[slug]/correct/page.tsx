import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { loopFormOf } from '@/lib/capture/loopCorrection';
import { loopForCorrection } from '@/lib/registry/loops/correctLoop';
import { readView } from '../../../readView';
import { CorrectLoop } from './CorrectLoop';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Correct a loop' };

export default async function CorrectLoopPage({ params }: { params: Promise<{ slug: string }> }) {
  const { slug } = await params;
  await leadOn('loop', slug, '/correct');
  const actor = await requireSignedIn(`/loops/${slug}/correct`);
  const loop = await readView(loopForCorrection(registry(), actor, slug));
  return (
    <>
      <PageHeader
        title="Correct a loop"
        meta={loop.name}
        lead="Puts right what was wrong of it all along. Where runs were computed from it, they are corrected with it, once a reviewer has approved that; a road that was rebuilt is another loop."
        breadcrumbs={[
          { label: 'Loops', href: '/loops' },
          { label: loop.name, href: `/loops/${loop.slug}` },
          { label: 'Correct' },
        ]}
      />
      {loop.world === 'demo' ? <DemoMark /> : null}
      <CorrectLoop slug={loop.slug} values={loopFormOf(loop)} />
    </>
  );
}
