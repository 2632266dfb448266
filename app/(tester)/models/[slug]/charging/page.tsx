import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { chargingForm } from '@/lib/capture/chargingForm';
import { chargingFormOf } from '@/lib/registry/models/charging';
import { showQuantity } from '@/lib/units/show';
import { readView } from '../../../readView';
import { StateCharging } from './StateCharging';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'State how a model charges' };

interface ChargingPageProps {
  params: Promise<{ slug: string }>;
}

export default async function ChargingPage({ params }: ChargingPageProps) {
  const { slug } = await params;
  await leadOn('model', slug, '/charging');
  const actor = await requireSignedIn(`/models/${encodeURIComponent(slug)}/charging`);
  const view = await readView(chargingFormOf(registry(), actor, slug));
  const capacity =
    view.usableCapacityWh === null
      ? undefined
      : showQuantity(view.usableCapacityWh, 'kWh', await readerDisplay({}), { decimals: 1 });
  return (
    <>
      <PageHeader
        title="State how a model charges"
        meta={capacity === undefined ? view.name : `${view.name} · usable capacity ${capacity}`}
        lead="What a data sheet says, or what you watched at a charger. The newest statement counts for estimates; earlier ones stay on record."
        breadcrumbs={[
          { label: 'Models', href: '/models' },
          { label: view.name, href: `/models/${view.slug}` },
          { label: 'Charging' },
        ]}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <StateCharging
        modelId={view.modelId}
        takesCapacity={view.takesCapacity}
        values={chargingForm(view.stated)}
      />
    </>
  );
}
