import type { Metadata } from 'next';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { requireSignedIn } from '@/app/visitor/actor';
import { waitingFor } from '../../../waiting';
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
      <p className="my-5">
        <Link className="link" href="/my/loops/from-trace">
          Have a recording of it? It fills in most of this.
        </Link>
      </p>
      <AddLoop run={waitingFor((await searchParams).run)} />
    </>
  );
}
