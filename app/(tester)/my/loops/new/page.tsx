import type { Metadata } from 'next';
import { requireSignedIn } from '@/app/session/actor';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { idOrNothing } from '../../../readView';
import { AddLoop } from './AddLoop';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Add a loop' };

export default async function NewLoopPage({
  searchParams,
}: {
  searchParams: Promise<{ run?: string | string[] }>;
}) {
  await requireSignedIn('/my/loops/new');
  return (
    <>
      <PageHeader
        title="Add a loop"
        lead="A fixed route out and back, described so that others can drive the same one."
        breadcrumbs={[{ label: 'My runs', href: '/my' }, { label: 'Add a loop' }]}
      />
      <SafetyCaution kind="plan" />
      <AddLoop run={idOrNothing((await searchParams).run)} />
    </>
  );
}
