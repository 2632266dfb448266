import { DataTable } from '@/app/ui/DataTable';
import { Figure } from '@/app/ui/figures/Figure';
import { RunLink } from '@/app/ui/RunLink';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import type { ShownStudyRun, StudyView } from '@/lib/registry/studies/study';
import { DEVIATION_WORDS, type DrivenRun, type DrivenSession } from '@/lib/study/driven';
import { letterOf, type StudyPlan } from '@/lib/study/plan';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { driftFigure } from './driftFigure';

interface DrivenDaysProps {
  view: StudyView;
  plan: StudyPlan;
  display: Display;
}

/** Plan against done, day by day in the order of driving, with what the air did meanwhile. */
export function DrivenDays({ view, plan, display }: DrivenDaysProps) {
  if (view.sessions.length === 0) return null;
  const titleOf = (id: string) => view.setups.find((setup) => setup.id === id)?.title ?? '';
  const drift = driftFigure(view, plan, display);
  return (
    <Section
      id="driven"
      title="What was driven"
      note="In the order of driving. Runs that did not follow the plan are marked and kept."
      wide
    >
      {view.sessions.map((session) => (
        <div key={session.place} className="mt-6 first:mt-0">
          <h3>
            Day {session.place + 1}: <Day of={session.runs[0]?.run.day ?? ''} />
          </h3>
          <p className="text-sm text-ink-soft">{orderWords(session, plan)}</p>
          <DataTable
            caption={`Runs of day ${session.place + 1}`}
            captionHidden
            rows={session.runs}
            rowKey={({ run }) => String(run.number)}
            columns={[
              {
                key: 'setup',
                header: 'Setup',
                rowHeader: true,
                cell: ({ run }) => `${letterOf(plan, run.setupId)} · ${titleOf(run.setupId)}`,
              },
              { key: 'run', header: 'Run', answer: true, cell: ({ run }) => <RunCell run={run} /> },
              {
                key: 'value',
                header: 'At reference',
                align: 'end',
                cell: ({ run }) =>
                  run.whPerKm === null ? '–' : showQuantity(run.whPerKm, 'consumption', display),
              },
              {
                key: 'air',
                header: 'Air',
                align: 'end',
                cell: ({ run }) =>
                  run.airTemperatureC === null
                    ? '–'
                    : showQuantity(run.airTemperatureC, 'temperature', display, { decimals: 0 }),
              },
              {
                key: 'wind',
                header: 'Wind',
                align: 'end',
                cell: ({ run }) =>
                  run.windSpeedMps === null
                    ? '–'
                    : showQuantity(run.windSpeedMps, 'wind', display, { decimals: 1 }),
              },
              { key: 'marks', header: 'Marks', wide: true, cell: (driven) => marksOf(driven) },
            ]}
          />
        </div>
      ))}
      {drift ? (
        <div className="mt-8">
          <h3>Drift in the day</h3>
          <p className="mt-1 max-w-[46rem]">
            {drift.sentence}
            {plan.orderKind === 'A B B A' || plan.orderKind === 'there and back'
              ? ' A steady one cancels out all the same, because each day’s order runs there and back.'
              : ''}
          </p>
          <Figure figure={drift.figure} isTitleSaid />
        </div>
      ) : null}
    </Section>
  );
}

function RunCell({ run }: { run: ShownStudyRun }) {
  if (run.isPublic) return <RunLink number={run.number} />;
  return run.standing === 'waiting' ? 'waits for review' : 'does not count';
}

function marksOf({ run, deviations }: DrivenRun<ShownStudyRun>): string {
  const marks = [
    ...deviations.map((deviation) => DEVIATION_WORDS[deviation]),
    ...(run.wasChosen ? ['added by hand afterwards'] : []),
    ...(run.isPublic && run.standing === 'does not count' ? ['retracted'] : []),
    ...(run.standing === 'approved' && !run.isBeforePlan ? ['has no number at reference conditions'] : []),
  ];
  return marks.length === 0 ? 'as planned' : marks.join('; ');
}

function orderWords(session: DrivenSession<ShownStudyRun>, plan: StudyPlan): string {
  if (session.planned === null) return 'Beyond the days that were planned.';
  const letters = (ids: readonly string[]) => ids.map((id) => letterOf(plan, id)).join(' ');
  const missing = session.missing.length === 0 ? '' : ` Not driven: ${letters(session.missing)}.`;
  return `Planned order: ${letters(session.planned)}.${missing}`;
}
