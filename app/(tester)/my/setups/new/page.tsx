import type { Metadata } from 'next';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myCars, setupChoices } from '@/lib/registry/cars/myCars';
import { idOrNothing, readView } from '../../../readView';
import { AddSetup } from './AddSetup';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Add a setup' };

interface NewSetupPageProps {
  searchParams: Promise<{ model?: string | string[]; run?: string | string[] }>;
}

export default async function NewSetupPage({ searchParams }: NewSetupPageProps) {
  const query = await searchParams;
  const modelId = idOrNothing(query.model);
  const actor = await requireSignedIn(`/my/setups/new${modelId ? `?model=${modelId}` : ''}`);
  const crumbs = [{ label: 'My runs', href: '/my' }, { label: 'Add a setup' }];
  if (modelId === undefined) {
    const { models } = await readView(myCars(registry(), actor));
    return (
      <>
        <PageHeader title="Add a setup" lead="Of which model?" breadcrumbs={crumbs} />
        <ul className="space-y-3">
          {models.map((model) => (
            <li key={model.id}>
              <LinkButton href={`/my/setups/new?model=${model.id}`}>{model.label}</LinkButton>
            </li>
          ))}
        </ul>
      </>
    );
  }
  const choices = await readView(setupChoices(registry(), actor, modelId));
  return (
    <>
      <PageHeader
        title="Add a setup"
        meta={choices.model}
        lead="One level of each factor that is not as delivered. The same levels always make the same setup."
        breadcrumbs={crumbs}
      />
      <AddSetup choices={choices} run={idOrNothing(query.run)} />
    </>
  );
}
