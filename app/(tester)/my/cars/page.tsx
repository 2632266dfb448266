import type { Metadata } from 'next';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { modelChoices } from '@/lib/registry/cars/carChoices';
import { myCars } from '@/lib/registry/cars/myCars';
import { idOrNothing, readView } from '../../readView';
import { waitingFor } from '../../waiting';
import { AddCar } from './AddCar';
import { FindModel } from './FindModel';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'My cars' };

interface MyCarsPageProps {
  searchParams: Promise<SearchParams>;
}

export default async function MyCarsPage({ searchParams }: MyCarsPageProps) {
  const actor = await requireSignedIn('/my/cars');
  const params = await searchParams;
  const [run, chosenId] = [waitingFor(params.run), idOrNothing(params.model)];
  const text = one(params, 'q');
  const [cars, choices] = await Promise.all([
    readView(myCars(registry(), actor, await readerDisplay())),
    readView(modelChoices(registry(), actor, { text, chosenId })),
  ]);
  return (
    <>
      <PageHeader
        title="My cars"
        lead="Each with its placard pressures and the calibrations of its instruments."
        breadcrumbs={[{ label: 'My runs', href: '/my' }, { label: 'My cars' }]}
      />
      <Section id="cars" title="Cars" wide>
        <DataTable
          caption="Your cars"
          captionHidden
          rows={cars}
          rowKey={(car) => car.id}
          empty="No car yet: add one below."
          columns={[
            {
              key: 'name',
              header: 'Car',
              rowHeader: true,
              cell: (car) => (
                <Link href={`/my/cars/${car.id}`} className="link">
                  {car.name}
                </Link>
              ),
            },
            { key: 'model', header: 'Model', cell: (car) => car.model },
            { key: 'placard', header: 'Placard pressures', cell: (car) => car.placard },
            { key: 'calibrations', header: 'Calibrations in force', cell: (car) => car.calibrations },
            { key: 'setups', header: 'Setups of the model', align: 'end', cell: (car) => car.setupCount },
            { key: 'runs', header: 'Runs sent', align: 'end', cell: (car) => car.runCount },
          ]}
        />
      </Section>
      <Section id="add" title="Add a car" note="Its name and model stand beside your runs.">
        {text !== undefined || choices.total > choices.models.length ? (
          <FindModel path="/my/cars" anchor="#add" text={text} choices={choices} run={run} />
        ) : null}
        <AddCar models={choices.models} modelId={chosenId} run={run} />
      </Section>
    </>
  );
}
