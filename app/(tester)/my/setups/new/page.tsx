import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { modelChoices, setupChoices } from '@/lib/registry/cars/carChoices';
import { idOrNothing, readView } from '../../../readView';
import { waitingFor } from '../../../waiting';
import { FindModel } from '../../cars/FindModel';
import { AddSetup } from './AddSetup';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Add a setup' };

interface NewSetupPageProps {
  searchParams: Promise<SearchParams>;
}

export default async function NewSetupPage({ searchParams }: NewSetupPageProps) {
  const query = await searchParams;
  const modelId = idOrNothing(query.model);
  const actor = await requireSignedIn(`/my/setups/new${modelId ? `?model=${modelId}` : ''}`);
  const crumbs = [{ label: 'My runs', href: '/my' }, { label: 'Add a setup' }];
  if (modelId === undefined) {
    const text = one(query, 'q');
    const choices = await readView(modelChoices(registry(), actor, { text }));
    return (
      <>
        <PageHeader title="Add a setup" lead="Of which model?" breadcrumbs={crumbs} />
        {text !== undefined || choices.total > choices.models.length ? (
          <FindModel path="/my/setups/new" text={text} choices={choices} run={waitingFor(query.run)} />
        ) : null}
        <ul className="space-y-3">
          {choices.models.map((model) => (
            <li key={model.id}>
              <LinkButton href={hrefWith('/my/setups/new', query, { model: model.id, q: undefined })}>
                {model.label}
              </LinkButton>
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
      <AddSetup choices={choices} run={waitingFor(query.run)} />
    </>
  );
}
