import Link from 'next/link';
import { countText } from '@/app/ui/countText';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';
import { RunDensity } from './RunDensity';
import { SessionDots } from './SessionDots';

interface SetupRunsProps {
  view: SetupView;
  chosen: ClassEstimate;
  display: Display;
}

/** The runs behind the estimate of one class, by car and session. */
export function SetupRuns({ view, chosen, display }: SetupRunsProps) {
  const { counts, sessions, density } = view;
  const { cars } = counts;
  const summary = `${view.title}, ${view.model}: ${countText({ runs: chosen.runs, sessions: counts.sessions, cars })}, at ${chosen.classLabel}.`;
  const drawnRuns = sessions.reduce((sum, session) => sum + session.runs.length, 0);
  const isWhole = drawnRuns === counts.runs;
  const drawn = isWhole
    ? summary
    : `${summary} Drawn are the latest ${drawnRuns} of ${counts.runs} runs, from ${sessions.length} of ${counts.sessions} sessions.`;
  return (
    <Section
      id="runs"
      title="Runs by car and session"
      note={`At ${chosen.classLabel}, normalised. Spread within a row is repeatability; between rows come the day and the car.`}
      wide
    >
      {density === undefined ? null : (
        <RunDensity view={view} density={density} chosen={chosen} display={display} />
      )}
      <FigureWithTable
        caption={drawn}
        reading="The upright line is the fitted estimate. It is no plain mean: sessions count by what they tell."
        tableCaption={`${isWhole ? 'Runs' : 'Latest runs'} of ${view.title} at ${chosen.classLabel}`}
        table={{
          columns: [
            { header: 'Run' },
            { header: 'Car', align: 'start' },
            { header: 'Date', align: 'start' },
            { header: 'Loop', align: 'start' },
            { header: 'Measured', unit: unitSymbol(display.consumption) },
            { header: 'Normalised', unit: unitSymbol(display.consumption) },
          ],
          rows: sessions.flatMap((session) =>
            session.runs.map((run) => [
              <Link key="run" className="link" href={`/runs/${run.number}`}>
                Run {run.number}
              </Link>,
              session.car,
              <Day key="day" of={session.date} />,
              session.loopName,
              run.measuredWhPerKm === null ? '–' : consumptionNumber(run.measuredWhPerKm, display),
              run.normalisedWhPerKm === null
                ? 'outside reach'
                : consumptionNumber(run.normalisedWhPerKm, display),
            ]),
          ),
        }}
      >
        <SessionDots
          title={`Runs of ${view.title} by car and session`}
          desc={drawn}
          sessions={sessions}
          shown={(whPerKm) => fromCanonical(whPerKm, display.consumption)}
          estimate={{
            value: fromCanonical(chosen.estimateWhPerKm, display.consumption),
            label: `estimate ${fittedText(chosen, display)}`,
          }}
          axisLabel={`normalised ${senseOf(display.consumption).quantity}, ${unitSymbol(display.consumption)}`}
        />
      </FigureWithTable>
      {counts.notNormalised > 0 ? (
        <p className="text-sm text-ink-soft">
          {counts.notNormalised} approved {counts.notNormalised === 1 ? 'run lies' : 'runs lie'} outside the
          method’s reach and {counts.notNormalised === 1 ? 'has' : 'have'} no normalised number.
        </p>
      ) : null}
    </Section>
  );
}
