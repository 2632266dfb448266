import { LinkButton } from '@/app/ui/LinkButton';
import { type CitedSnapshot, snapshotInCitation } from '@/lib/answers/citation';
import type { RunView } from '@/lib/registry/runs/run';
import { dayWords, prepositionOf } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { showWithUncertainty } from '@/lib/units/show';
import { publicAddress } from './publicAddress';

/** How to name this run, and the files to check it with. */
export function Cite({
  view,
  display,
  snapshot,
}: {
  view: RunView;
  display: Display;
  snapshot: CitedSnapshot | undefined;
}) {
  return (
    <>
      {view.isPublic ? (
        <p className="max-w-[46rem] border-l-2 border-rule-strong pl-4">
          {citation(view, display, snapshot)}
        </p>
      ) : null}
      {view.result ? (
        <div className="mt-4 flex flex-wrap items-center gap-4">
          <LinkButton href={`/runs/${view.number}/case.json`} download={`evenloop-run-${view.number}.json`}>
            Input of the calculation (JSON)
          </LinkButton>
          <p className="max-w-[28rem] text-sm text-ink-soft">
            Recompute it yourself:{' '}
            <code className="code">npm run normalise -- evenloop-run-{view.number}.json</code>
          </p>
        </div>
      ) : null}
    </>
  );
}

/** One sentence with everything that pins the number down. */
function citation(view: RunView, display: Display, snapshot: CitedSnapshot | undefined): string {
  const { subject, result } = view;
  const normalisation = result?.normalisation;
  const value =
    normalisation?.outcome === 'normalised'
      ? `${showWithUncertainty(normalisation.normalisedWhPerKm, normalisation.uWhPerKm, 'consumption', display)} at reference conditions`
      : 'recorded as measured, not brought to reference conditions';
  const demo = view.world === 'demo' ? ' Demo world, invented data.' : '';
  const retracted = view.retraction
    ? ` Retracted ${prepositionOf(view.retraction.at)} ${dayWords(view.retraction.at.slice(0, 10))}.`
    : '';
  return `${subject.tester.displayName}, run ${view.number}, revision ${view.revisionNumber}: ${subject.model.name}, ${subject.setup.title}, ${subject.loop.name}, ${subject.classLabel}, ${dayWords(subject.localDate)}; ${value} (method ${result?.methodVersion ?? '–'}, protocol ${view.findings.protocolLabel}). Evenloop, ${publicAddress(`/runs/${view.number}`)}.${snapshotInCitation(snapshot)}${retracted}${demo}`;
}
