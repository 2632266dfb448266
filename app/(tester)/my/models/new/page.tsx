import type { Metadata } from 'next';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { waitingFor } from '../../../waiting';
import { AddModel } from './AddModel';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Add a model' };

export default async function NewModelPage({
  searchParams,
}: {
  searchParams: Promise<{ run?: string | string[] }>;
}) {
  await requireSignedIn('/my/models/new');
  return (
    <>
      <PageHeader
        title="Add a model"
        lead="What a data sheet describes: maker, model, year and variant. Check first that it is not in the list of models."
        breadcrumbs={[
          { label: 'My runs', href: '/my' },
          { label: 'My cars', href: '/my/cars' },
          { label: 'Add a model' },
        ]}
      />
      <AddModel run={waitingFor((await searchParams).run)} />
    </>
  );
}
