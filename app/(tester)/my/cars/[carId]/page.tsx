import type { Metadata } from 'next';
import { DisplayScaleWords } from '@/app/runDossier/DisplayScaleWords';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { DemoMark } from '@/app/ui/DemoMark';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { myCar } from '@/lib/registry/cars/myCars';
import { idOrNotFound, readView } from '../../../readView';
import { AddCalibration, ChangeTyres } from './CalibrationForms';
import { CalibrationTable } from './CalibrationTable';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'A car of mine' };

const NOTICES: ReadonlyMap<string, string> = new Map(
  Object.entries({
    changed: 'The values are changed. Runs sent before keep their results.',
    calibrated: 'The calibration is kept.',
    corrected: 'The calibration is corrected. No run rests on it.',
    tyres: 'The calibrations in force have ended.',
  }),
);

interface MyCarPageProps {
  params: Promise<{ carId: string }>;
  searchParams: Promise<{ notice?: string }>;
}

export default async function MyCarPage({ params, searchParams }: MyCarPageProps) {
  const carId = idOrNotFound((await params).carId);
  const actor = await requireSignedIn(`/my/cars/${carId}`);
  const display = await readerDisplay();
  const car = await readView(myCar(registry(), actor, carId, display));
  const notice = NOTICES.get((await searchParams).notice ?? '');
  return (
    <>
      <PageHeader
        title={car.name}
        meta={car.model}
        breadcrumbs={[
          { label: 'My runs', href: '/my' },
          { label: 'My cars', href: '/my/cars' },
          { label: car.name },
        ]}
        actions={
          <>
            <LinkButton href={`/my/cars/${car.id}/change`}>Change its values</LinkButton>
            <LinkButton href={`/my/setups/new?model=${car.modelId}`}>Add a setup</LinkButton>
          </>
        }
      />
      {car.world === 'demo' ? <DemoMark /> : null}
      {car.hiddenReason === null ? null : (
        <Notice kind="caution" title="A steward took this car out of what a run can be recorded with.">
          {car.hiddenReason} Its runs go on counting.
        </Notice>
      )}
      {notice ? <Notice kind="done" title={notice} live /> : null}
      <Section id="facts" title="On file">
        <DefinitionList items={car.facts} />
      </Section>
      <Section
        id="calibrations"
        title="Calibrations"
        note="True value = factor × shown value, with one standard uncertainty."
      >
        <CalibrationTable carId={car.id} calibrations={car.calibrations} />
      </Section>
      <Section
        id="display"
        title="Its energy display"
        note="Held against its charger and its state of charge, run by run."
      >
        <DisplayScaleWords scale={car.displayScale} display={display} />
      </Section>
      <Section id="calibrate" title="Add a calibration">
        <AddCalibration carId={car.id} />
      </Section>
      <Section id="tyres" title="Tyres changed">
        <ChangeTyres carId={car.id} />
      </Section>
    </>
  );
}
