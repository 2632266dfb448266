import type { Metadata } from 'next';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { changedPlanForm } from '@/lib/registry/studies/planForm';
import { readView } from '../../../readView';
import { PlanForm } from '../../PlanForm';
import { PlanLead } from '../../PlanLead';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Change a plan' };

export default async function ChangePlanPage({ params }: { params: Promise<{ slug: string }> }) {
  const { slug } = await params;
  const actor = await requireSignedIn(`/studies/${encodeURIComponent(slug)}/plan`);
  const view = await readView(changedPlanForm(registry(), actor, slug));
  return (
    <>
      <PageHeader
        title="Change the plan"
        lead={<PlanLead view={view} />}
        breadcrumbs={[
          { label: 'Studies', href: '/studies' },
          { label: 'Study', href: `/studies/${slug}` },
          { label: 'Change the plan' },
        ]}
      />
      <SafetyCaution kind="plan" />
      <PlanForm view={view} display={await readerDisplay()} />
    </>
  );
}
