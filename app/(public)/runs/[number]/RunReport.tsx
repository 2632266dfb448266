import { Adjustment } from '@/app/runDossier/Adjustment';
import { Budget } from '@/app/runDossier/Budget';
import { Cite } from '@/app/runDossier/Cite';
import { ConditionsList } from '@/app/runDossier/ConditionsList';
import { EnergyReadings } from '@/app/runDossier/EnergyReadings';
import { Facts, States } from '@/app/runDossier/Facts';
import { Findings } from '@/app/runDossier/Findings';
import { MeasuredBasis } from '@/app/runDossier/MeasuredBasis';
import { OutsideReach } from '@/app/runDossier/OutsideReach';
import { Photos } from '@/app/runDossier/Photos';
import { ReadingsTable } from '@/app/runDossier/ReadingsTable';
import { Simulation } from '@/app/runDossier/Simulation';
import { Standing, StandingDue } from '@/app/runDossier/Standing';
import { TraceSection } from '@/app/runDossier/TraceSection';
import { Trail } from '@/app/runDossier/Trail';
import { LegWind, WindLeft } from '@/app/runDossier/WindLeft';
import { Section } from '@/app/ui/Section';
import type { RunView } from '@/lib/registry/runs/run';
import type { Display } from '@/lib/units/display';
import { RunHead } from './RunHead';

interface RunReportProps {
  view: RunView;
  display: Display;
  /** This page in the reader's own unit, where its address asks for another. */
  ownUnitHref: string | undefined;
  hrefFor: (changes: Record<string, string | undefined>) => string;
}

/** A run from its headline down to the readings, in the order in which a sceptic would ask. */
export function RunReport({ view, display, ownUnitHref, hrefFor }: RunReportProps) {
  const { result, standing, windLeft } = view;
  const normalisation = result?.normalisation;
  const run = normalisation?.outcome === 'normalised' ? normalisation : undefined;
  return (
    <>
      <RunHead view={view} display={display} ownUnitHref={ownUnitHref} />
      <States view={view} />
      <Facts view={view} display={display} />
      <Section
        id="readings"
        title="Readings"
        note="As each display showed them. A shown number stands for every value that rounds to it."
        wide
      >
        <ReadingsTable readings={view.readings} display={display} />
      </Section>
      <Section id="conditions" title="Conditions">
        <ConditionsList view={view} display={display} />
      </Section>
      <Section id="evidence" title="Evidence" note="Location and camera data were taken out of the pictures.">
        <Photos photos={view.photos} utcOffsetMin={view.subject.utcOffsetMin} />
      </Section>
      <TraceSection run={view} display={display} />
      <Section
        id="findings"
        title="Checks and rules"
        note="Cross-checks of the readings and the rules of the protocol, each with what decided it."
      >
        <Findings findings={view.findings} display={display} />
      </Section>
      {result ? (
        <Section
          id="energy"
          title="Energy"
          note="Several displays say how much energy it took. They are brought together by their uncertainties."
        >
          <EnergyReadings result={result} display={display} />
        </Section>
      ) : null}
      {result ? (
        <Section
          id="basis"
          title="Distance, speed and car"
          note="What the result rests on besides the energy."
        >
          <MeasuredBasis result={result} display={display} />
        </Section>
      ) : null}
      {result && run ? (
        <>
          <Section id="adjustment" title="From measured to comparable" wide>
            <Adjustment run={run} view={view} display={display} />
          </Section>
          {windLeft ? (
            <Section id="wind" title="What the loop leaves of the wind">
              <WindLeft wind={windLeft} display={display} />
            </Section>
          ) : null}
          {result.legWind ? (
            <Section id="legs" title="Wind by the two legs">
              <LegWind legWind={result.legWind} display={display} />
            </Section>
          ) : null}
          <Section id="uncertainty" title="Uncertainty" wide>
            <Budget run={run} view={view} display={display} />
          </Section>
          <Section id="simulation" title="Check by simulation">
            <Simulation
              run={run}
              result={result}
              simulation={view.simulation}
              href={`${hrefFor({ check: 'monte-carlo' })}#simulation`}
              display={display}
            />
          </Section>
        </>
      ) : null}
      {normalisation?.outcome === 'outsideReach' ? (
        <Section id="reach" title="Outside the method’s reach">
          <OutsideReach run={normalisation} display={display} />
        </Section>
      ) : null}
      {standing ? (
        <Section id="others" title="Among the setup’s other runs" wide>
          {standing === 'due' ? (
            <StandingDue />
          ) : (
            <Standing standing={standing} display={display} view={view} />
          )}
        </Section>
      ) : null}
      <Section id="trail" title="Review trail">
        <Trail view={view} display={display} logHref={(log) => `${hrefFor({ log })}#log`} />
      </Section>
      <Section id="cite" title={view.isPublic ? 'Cite and recompute' : 'Recompute'}>
        <Cite view={view} display={display} />
      </Section>
      <p className="mt-10 border-t border-rule pt-4 text-sm text-ink-soft">
        Results are estimates under the stated conditions, not range guarantees.
      </p>
    </>
  );
}
