import type { ReactNode } from 'react';
import { CurateLink } from '@/app/account/CurateLink';
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
import { Recording } from '@/app/runDossier/TraceSection';
import { Trail } from '@/app/runDossier/Trail';
import { LegWind, WindLeft } from '@/app/runDossier/WindLeft';
import { PageContents } from '@/app/ui/PageContents';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { ReportLink } from '@/app/ui/ReportLink';
import { Section } from '@/app/ui/Section';
import type { CitedSnapshot } from '@/lib/answers/citation';
import type { RunView } from '@/lib/registry/runs/run';
import type { readRunTrace } from '@/lib/registry/traces/runTrace';
import type { Display } from '@/lib/units/display';
import { RunHead } from './RunHead';

interface RunReportProps {
  view: RunView;
  /** Its recording, where it has one. */
  trace: Awaited<ReturnType<typeof readRunTrace>>;
  /** The latest one of its world. */
  snapshot: CitedSnapshot | undefined;
  /** Its tester submitted it a moment ago. */
  isSent: boolean;
  display: Display;
  /** This page in the reader's own unit, where its address asks for another. */
  ownUnitHref: string | undefined;
  hrefFor: (changes: Record<string, string | undefined>) => string;
}

/** A run: its result and how it came from what was measured, then the readings, then what a sceptic would ask. */
export function RunReport({ view, trace, snapshot, isSent, display, ownUnitHref, hrefFor }: RunReportProps) {
  const { result, standing, windLeft } = view;
  const normalisation = result?.normalisation;
  const run = normalisation?.outcome === 'normalised' ? normalisation : undefined;
  const part = (
    id: string,
    title: string,
    body: ReactNode,
    rest: { note?: string; wide?: boolean } = {},
  ) => ({
    id,
    title,
    section: (
      <Section id={id} title={title} {...rest}>
        {body}
      </Section>
    ),
  });
  return (
    <>
      <RunHead view={view} isSent={isSent} display={display} ownUnitHref={ownUnitHref} />
      <PageContents
        parts={[
          run &&
            part(
              'adjustment',
              'From measured to comparable',
              <Adjustment run={run} view={view} display={display} />,
              {
                wide: true,
              },
            ),
          normalisation?.outcome === 'outsideReach'
            ? part(
                'reach',
                'Outside the method’s reach',
                <OutsideReach run={normalisation} display={display} />,
              )
            : undefined,
          part('readings', 'Readings', <ReadingsTable readings={view.readings} display={display} />, {
            note: 'As each display showed them. A shown number stands for every value that rounds to it.',
            wide: true,
          }),
          part('conditions', 'Conditions', <ConditionsList view={view} display={display} />),
          result &&
            part('energy', 'Energy', <EnergyReadings result={result} display={display} />, {
              note: 'Several displays say how much energy the run took. Each counts by how sure it is.',
            }),
          result &&
            part('basis', 'Distance, speed and car', <MeasuredBasis result={result} display={display} />, {
              note: 'What the result rests on besides the energy.',
            }),
          run && windLeft
            ? part('wind', 'What the loop leaves of the wind', <WindLeft wind={windLeft} display={display} />)
            : undefined,
          run && result?.legWind
            ? part('legs', 'Wind by the two legs', <LegWind legWind={result.legWind} display={display} />)
            : undefined,
          run &&
            part(
              'uncertainty',
              'How sure the number is',
              <Budget run={run} view={view} display={display} />,
              {
                note: `${PLUS_MINUS} That is its standard uncertainty; the 95 % interval reaches about twice as far.`,
                wide: true,
              },
            ),
          run && result
            ? part(
                'simulation',
                'Check by simulation',
                <Simulation
                  run={run}
                  result={result}
                  simulation={view.simulation}
                  href={`${hrefFor({ check: 'monte-carlo' })}#simulation`}
                  display={display}
                />,
                {
                  note: 'The formula is that of JCGM 100, the draws those of JCGM 101 (a Monte Carlo method).',
                },
              )
            : undefined,
          standing
            ? part(
                'others',
                'Among the setup’s other runs',
                standing === 'due' ? (
                  <StandingDue />
                ) : (
                  <Standing standing={standing} display={display} view={view} />
                ),
                { wide: true },
              )
            : undefined,
          part('findings', 'Checks and rules', <Findings findings={view.findings} display={display} />, {
            note: 'The rules of the protocol and the checks of readings against each other, each with what decided it.',
          }),
          part(
            'evidence',
            'Evidence',
            <Photos
              photos={view.photos}
              readings={view.readings}
              utcOffsetMin={view.subject.utcOffsetMin}
              {...(view.subject.startedAt === null ? { noTime: 'its time is not published' } : {})}
            />,
            { note: 'Location and camera data were taken out of the pictures.' },
          ),
          trace && {
            id: 'recording',
            title: 'Recording',
            section: <Recording trace={trace} run={view} display={display} />,
          },
          { id: 'what', title: 'The run', section: <Facts view={view} display={display} /> },
          { id: 'state', title: 'State', section: <States view={view} /> },
          part(
            'trail',
            'Review trail',
            <Trail view={view} display={display} logHref={(log) => `${hrefFor({ log })}#log`} />,
          ),
          part(
            'cite',
            view.isPublic ? 'Cite and recompute' : 'Recompute',
            <Cite view={view} display={display} snapshot={snapshot} />,
          ),
        ]}
      />
      {view.isPublic ? <ReportLink kind="run" of={view.number} /> : null}
      {view.subject.curatedCarId === null ? null : <CurateLink kind="car" of={view.subject.curatedCarId} />}
      <p className="mt-10 border-t border-rule pt-4 text-sm text-ink-soft">
        Results are estimates under the stated conditions, not a promise of range.
      </p>
    </>
  );
}
