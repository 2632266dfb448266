import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import { WorkProgress } from '@/app/ui/WorkProgress';
import type { AdoptionView } from '@/lib/registry/method/methodVersions';
import { worldTitle, worldWords } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { AdoptForm } from './AdoptForm';

/** What of a world would be adopted, what would not and why. */
export function Adoption({ view, display }: { view: AdoptionView; display: Display }) {
  const { world, label, candidates, adoptable, returning } = view;
  return (
    <Section
      id={world}
      title={worldTitle(world)}
      note={`Version ${label} is in effect.${view.isComputing ? ' Runs are still being computed under it.' : ''}`}
      wide
    >
      {world === 'demo' ? <DemoMark /> : null}
      <WorkProgress
        progress={view.progress}
        words="revisions computed"
        title="Runs are being computed under the new version."
      />
      <DataTable
        caption={`Learned road loads of ${worldWords(world)}`}
        captionHidden
        rows={candidates}
        rowKey={(candidate) => candidate.learnedId}
        empty="No model has enough approved runs to learn from."
        columns={[
          {
            key: 'model',
            header: 'Model',
            rowHeader: true,
            cell: (candidate) => (
              <Link className="link" href={`/models/${candidate.slug}#road-load`}>
                {candidate.name}
              </Link>
            ),
          },
          { key: 'runs', header: 'Runs', align: 'end', cell: (candidate) => candidate.runs },
          {
            key: 'gain',
            header: 'Gain a run',
            align: 'end',
            cell: (candidate) => showNumber(candidate.gainPerRun, 2, display, { signed: true }),
          },
          { key: 'learned', header: 'Learned on', cell: (candidate) => <Day of={candidate.learnedOn} /> },
          { key: 'now', header: 'Now', cell: (candidate) => (candidate.isAdopted ? 'adopted' : 'priors') },
          {
            key: 'then',
            header: 'With a new version',
            cell: (candidate) => (candidate.refusal === null ? 'as learned' : `priors: ${candidate.refusal}`),
          },
        ]}
        footnote="Gain: natural logarithm of how much more probable a run is when predicted from the model’s other cars than from the priors, each car left out in turn."
      />
      {returning > 0 ? (
        <p className="mt-4 max-w-[46rem]">
          {returning} {returning === 1 ? 'model' : 'models'} of the version in effect would return to the
          priors.
        </p>
      ) : null}
      {adoptable.length > 0 ? (
        <AdoptForm
          world={world}
          isWaiting={view.isComputing}
          seenVersionId={view.currentVersionId}
          learnedIds={adoptable.map(({ learnedId }) => learnedId)}
        />
      ) : (
        <p className="mt-4 max-w-[38rem] text-ink-soft">
          Nothing can be adopted: no model’s cars predict each other better than the priors do.
        </p>
      )}
    </Section>
  );
}
