import { DefinitionList } from '@/app/ui/DefinitionList';
import { StateTimeline } from '@/app/ui/figures/StateTimeline';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Day, Minute } from '@/app/ui/When';
import type { RunView } from '@/lib/registry/runs/run';
import { momentWords } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { showWithUncertainty } from '@/lib/units/show';

/** What the run is a run of. */
export function Facts({ view, display }: { view: RunView; display: Display }) {
  const { subject } = view;
  const { loop } = subject;
  return (
    <Section id="what" title="The run">
      <DefinitionList
        columns={2}
        items={[
          {
            term: 'Tester',
            description: (
              <Link className="link" href={`/testers/${subject.tester.slug}`}>
                {subject.tester.displayName}
              </Link>
            ),
          },
          {
            term: 'Model',
            description: (
              <Link className="link" href={`/models/${subject.model.slug}`}>
                {subject.model.name}
              </Link>
            ),
            note: subject.carName === null ? undefined : `Car: ${subject.carName}`,
          },
          {
            term: 'Setup',
            description: (
              <Link className="link" href={`/setups/${subject.setup.slug}`}>
                {subject.setup.title}
              </Link>
            ),
          },
          {
            term: 'Loop',
            description: (
              <Link className="link" href={`/loops/${loop.slug}`}>
                {loop.name}
              </Link>
            ),
            note: `${showWithUncertainty(loop.lengthM, Math.max(loop.lengthUncertaintyM, 1), 'distance', display)} out and back`,
          },
          { term: 'Cruise speed class', description: subject.classLabel },
          {
            term: 'Session',
            description: <Day of={subject.localDate} />,
            note:
              subject.startedAt === null ? (
                'Its tester publishes no more than the month.'
              ) : (
                <>
                  Started <Minute at={subject.startedAt} utcOffsetMin={subject.utcOffsetMin} />
                </>
              ),
          },
          {
            term: 'Judged by',
            description: (
              <Link className="link" href={`/protocol/${encodeURIComponent(view.findings.protocolLabel)}`}>
                protocol {view.findings.protocolLabel}
              </Link>
            ),
            note: view.result ? `Method ${view.result.methodVersion}` : undefined,
          },
          { term: 'Revision shown', description: `${view.revisionNumber} of ${view.revisions.length}` },
        ]}
      />
      {view.notes ? <p className="mt-4 max-w-[38rem] text-sm">Tester’s note: {view.notes}</p> : null}
      {view.isRetrospective ? (
        <p className="mt-2 max-w-[38rem] text-sm text-ink-soft">Entered after the day of driving.</p>
      ) : null}
    </Section>
  );
}

/** What became of it, in order. */
export function States({ view }: { view: RunView }) {
  return (
    <Section id="state" title="State">
      <StateTimeline
        label="States of this run, oldest first"
        entries={view.steps.map((step) => ({
          key: step.key,
          state: step.state,
          label: step.label,
          when: { dateTime: step.at, text: momentWords(step.at, view.subject.utcOffsetMin) },
          by: `by ${step.by.displayName}`,
          note: step.note || undefined,
        }))}
      />
      {view.supersededByNumber === null ? null : (
        <p className="mt-3 text-sm">
          Superseded by{' '}
          <Link className="link" href={`/runs/${view.supersededByNumber}`}>
            run {view.supersededByNumber}
          </Link>
          .
        </p>
      )}
      {view.supersedesNumber === null ? null : (
        <p className="mt-3 text-sm">
          Takes the place of{' '}
          <Link className="link" href={`/runs/${view.supersedesNumber}`}>
            run {view.supersedesNumber}
          </Link>
          .
        </p>
      )}
    </Section>
  );
}
