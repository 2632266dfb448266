import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myCar } from '@/lib/registry/cars/myCars';
import { idOrNotFound, readView } from '../../../../readView';
import { ChangeCar } from './ChangeCar';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Change a car' };

interface ChangeCarPageProps {
  params: Promise<{ carId: string }>;
}

export default async function ChangeCarPage({ params }: ChangeCarPageProps) {
  const carId = idOrNotFound((await params).carId);
  const actor = await requireSignedIn(`/my/cars/${carId}/change`);
  const car = await readView(myCar(registry(), actor, carId));
  return (
    <>
      <PageHeader
        title="Change a car"
        meta={`${car.name}, ${car.model}`}
        breadcrumbs={[
          { label: 'My runs', href: '/my' },
          { label: 'My cars', href: '/my/cars' },
          { label: car.name, href: `/my/cars/${carId}` },
          { label: 'Change' },
        ]}
      />
      {car.world === 'demo' ? <DemoMark /> : null}
      <Section
        id="values"
        title="Values of this car"
        note="What you measured on this car takes the place of its model’s values and of the priors, in runs that you send from now on. Runs sent before keep what they were computed from, unless you correct what was wrong all along."
      >
        <ChangeCar carId={car.id} hasRuns={car.runs > 0} values={car.form} />
      </Section>
    </>
  );
}
