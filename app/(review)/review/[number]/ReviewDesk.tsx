import Link from 'next/link';
import type { ReactNode } from 'react';
import { ConditionsList } from '@/app/runDossier/ConditionsList';
import { EnergyReadings } from '@/app/runDossier/EnergyReadings';
import { Facts } from '@/app/runDossier/Facts';
import { Findings } from '@/app/runDossier/Findings';
import { Headline } from '@/app/runDossier/Headline';
import { OutsideReach } from '@/app/runDossier/OutsideReach';
import { photoName } from '@/app/runDossier/Photos';
import { Standing, StandingDue } from '@/app/runDossier/Standing';
import { TraceSection } from '@/app/runDossier/TraceSection';
import { Trail } from '@/app/runDossier/Trail';
import { LegWind } from '@/app/runDossier/WindLeft';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { StatusTag } from '@/app/ui/StatusTag';
import { ZoneNote } from '@/app/ui/When';
import type { ReviewView } from '@/lib/registry/review/review';
import type { Display } from '@/lib/units/display';
import { Changes } from './Changes';
import { ClaimBar } from './ClaimBar';
import { DecisionPart } from './DecisionPart';
import { PhotoDesk } from './PhotoDesk';
import { PicturePairs } from './PicturePairs';
import { ReadingsBeside } from './ReadingsBeside';

interface ReviewDeskProps {
  view: ReviewView;
  display: Display;
  notice: ReactNode;
  /** The address of a page of the run’s log by its cursor. */
  logHref: (cursor: string | undefined) => string;
}

/** What a reviewer reads, in the order of reading, and the decision at its end. */
export function ReviewDesk({ view, display, notice, logHref }: ReviewDeskProps) {
  const { run } = view;
  const { subject, result } = run;
  return (
    <>
      <PageHeader
        breadcrumbs={[{ label: 'Review queue', href: '/queue' }, { label: `Run ${run.number}` }]}
        title={`Review of run ${run.number}`}
        meta={
          <>
            <StatusTag state={run.isClaimed ? 'claimed' : run.status} />
            <span>Revision {run.revisionNumber}</span>
            <ZoneNote utcOffsetMin={subject.utcOffsetMin} where="the clock at the loop" />
            <Link className="link" href={`/runs/${run.number}`}>
              Its page, with every step and the whole budget
            </Link>
            <a className="link" href="#decision">
              To the decision
            </a>
          </>
        }
        lead={`${subject.model.name}, ${subject.setup.title}, on ${subject.loop.name} at a true ${subject.classLabel}, by ${subject.tester.displayName}.`}
      />
      {notice}
      {run.world === 'demo' ? <DemoMark /> : null}
      <ClaimBar view={view} />
      <div className="my-8">
        <Headline view={run} display={display} />
      </div>
      <Section
        id="findings"
        title="What the rules found"
        note="Fails first, each with the numbers that decided it."
      >
        <Findings findings={run.findings} display={display} />
      </Section>
      {view.pictures.length > 0 ? (
        <Section
          id="pictures"
          title="Pictures on other runs"
          note="Looked for over all runs as they are now. Two photos of one display can look alike by chance: compare what they show."
          wide
        >
          <PicturePairs pairs={view.pictures} runNumber={run.number} tester={subject.tester.displayName} />
        </Section>
      ) : null}
      {view.changes ? (
        <Section id="changes" title={`Changed since revision ${view.changes.fromNumber}`}>
          <Changes changes={view.changes} display={display} />
        </Section>
      ) : null}
      <Section id="readings" title="Readings beside their evidence" wide>
        <div className="grid gap-x-10 gap-y-8 lg:grid-cols-2">
          <ReadingsBeside readings={run.readings} />
          <div className="lg:sticky lg:top-4 lg:self-start">
            <PhotoDesk
              utcOffsetMin={subject.utcOffsetMin}
              photos={run.photos.map((photo) => ({
                id: photo.id,
                sha256: photo.sha256,
                thumbSha256: photo.thumbSha256,
                widthPx: photo.widthPx,
                heightPx: photo.heightPx,
                capturedAt: photo.capturedAt,
                name: photoName(photo, run.photos),
              }))}
            />
          </div>
        </div>
      </Section>
      <TraceSection run={run} display={display} />
      <Section id="conditions" title="Conditions">
        <ConditionsList view={run} display={display} />
      </Section>
      {result ? (
        <Section id="energy" title="Energy">
          <EnergyReadings result={result} display={display} />
        </Section>
      ) : null}
      {result?.legWind ? (
        <Section id="legs" title="Wind by the two legs">
          <LegWind legWind={result.legWind} display={display} />
        </Section>
      ) : null}
      {result?.normalisation.outcome === 'outsideReach' ? (
        <Section id="reach" title="Outside the method’s reach">
          <OutsideReach run={result.normalisation} display={display} />
        </Section>
      ) : null}
      {run.standing ? (
        <Section id="others" title="Among the others" wide>
          {run.standing === 'due' ? (
            <StandingDue />
          ) : (
            <Standing standing={run.standing} display={display} view={run} withModel />
          )}
        </Section>
      ) : null}
      <Facts view={run} display={display} />
      <Section id="trail" title="Review trail">
        <Trail view={run} display={display} logHref={logHref} />
      </Section>
      <Section id="decision" title="Decision">
        <DecisionPart view={view} />
      </Section>
    </>
  );
}
