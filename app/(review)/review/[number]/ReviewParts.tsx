import { ConditionsList } from '@/app/runDossier/ConditionsList';
import { EnergyReadings } from '@/app/runDossier/EnergyReadings';
import { Facts } from '@/app/runDossier/Facts';
import { Findings } from '@/app/runDossier/Findings';
import { Headline } from '@/app/runDossier/Headline';
import { OutsideReach } from '@/app/runDossier/OutsideReach';
import { Standing, StandingDue } from '@/app/runDossier/Standing';
import { TraceSection } from '@/app/runDossier/TraceSection';
import { Trail } from '@/app/runDossier/Trail';
import { LegWind } from '@/app/runDossier/WindLeft';
import { Section } from '@/app/ui/Section';
import type { ReviewView } from '@/lib/registry/review/review';
import type { Display } from '@/lib/units/display';
import { Changes } from './Changes';
import { PicturePairs } from './PicturePairs';
import { ReadingsPart } from './ReadingsPart';
import { TesterTies } from './TesterTies';

interface ReviewPartsProps {
  view: ReviewView;
  display: Display;
  logHref: (cursor: string | undefined) => string;
}

/** Everything about the run but the decision, what decides most often first. */
export function ReviewParts({ view, display, logHref }: ReviewPartsProps) {
  const { run } = view;
  const { subject } = run;
  return (
    <>
      <Section
        id="findings"
        title="What the rules found"
        note="Fails first, each with the numbers that decided it."
        wide
      >
        <Findings findings={run.findings} display={display} />
      </Section>
      <Section id="number" title="Its number" wide>
        <Headline view={run} display={display} />
      </Section>
      {run.standing ? (
        <Section
          id="others"
          title="Among the others"
          note="What the model expects of this run from the others alone, and where it lies."
          wide
        >
          {run.standing === 'due' ? (
            <StandingDue />
          ) : (
            <Standing standing={run.standing} display={display} view={run} withModel />
          )}
        </Section>
      ) : null}
      <Section id="readings" title="Readings beside their photos" wide>
        <ReadingsPart view={view} />
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
        <Section id="changes" title={`Changed since revision ${view.changes.fromNumber}`} wide>
          <Changes changes={view.changes} display={display} />
        </Section>
      ) : null}
      {view.ties ? (
        <Section
          id="tester"
          title="Who sent it"
          note="A second account of one person cannot be told by this; what two accounts share can."
          wide
        >
          <TesterTies ties={view.ties} />
        </Section>
      ) : null}
      <FurtherParts view={view} display={display} logHref={logHref} />
    </>
  );
}

function FurtherParts({ view: { run, blind }, display, logHref }: ReviewPartsProps) {
  const { result } = run;
  return (
    <>
      <TraceSection run={run} display={display} />
      <Section id="conditions" title="Conditions" wide>
        <ConditionsList view={run} display={display} />
      </Section>
      {result && blind.hidden.size === 0 ? (
        <Section id="energy" title="Energy" wide>
          <EnergyReadings result={result} display={display} />
        </Section>
      ) : null}
      {result?.legWind ? (
        <Section id="legs" title="Wind by the two legs" wide>
          <LegWind legWind={result.legWind} display={display} />
        </Section>
      ) : null}
      {result?.normalisation.outcome === 'outsideReach' ? (
        <Section id="reach" title="Outside the method’s reach" wide>
          <OutsideReach run={result.normalisation} display={display} />
        </Section>
      ) : null}
      <Facts view={run} display={display} />
      <Section id="trail" title="Review trail" wide>
        <Trail view={run} display={display} logHref={logHref} />
      </Section>
    </>
  );
}
