import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myCar } from '@/lib/registry/cars/myCars';
import { idOrNotFound, readView } from '../../../../../readView';
import { CorrectCalibration, TakeBack } from './CorrectCalibration';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Correct a calibration' };

interface CalibrationPageProps {
  params: Promise<{ carId: string; calibrationId: string }>;
}

export default async function CalibrationPage({ params }: CalibrationPageProps) {
  const { carId, calibrationId } = await params;
  const actor = await requireSignedIn(`/my/cars/${idOrNotFound(carId)}/calibrations/${calibrationId}`);
  const car = await readView(myCar(registry(), actor, carId));
  const calibration = car.calibrations.find(({ id }) => id === calibrationId);
  if (calibration === undefined) notFound();
  return (
    <>
      <PageHeader
        title="Correct a calibration"
        meta={`${calibration.instrument} of ${car.name}`}
        lead="For one that was entered wrongly. A new measurement is a further calibration, and other tyres end the one in force. Runs that it touches are corrected with it, once a reviewer has approved that."
        breadcrumbs={[
          { label: 'My runs', href: '/my' },
          { label: 'My cars', href: '/my/cars' },
          { label: car.name, href: `/my/cars/${carId}` },
          { label: 'Correct a calibration' },
        ]}
      />
      {car.world === 'demo' ? <DemoMark /> : null}
      <Section id="correct" title="As it should be">
        <CorrectCalibration carId={carId} calibrationId={calibrationId} values={calibration.form} />
      </Section>
      <Section id="take-back" title="It never held">
        <TakeBack carId={carId} calibrationId={calibrationId} />
      </Section>
    </>
  );
}
