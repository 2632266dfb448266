import { DemoMark } from '@/app/ui/DemoMark';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { Notice } from '@/app/ui/Notice';
import { Minute } from '@/app/ui/When';
import { WorkProgress } from '@/app/ui/WorkProgress';
import type { DraftView } from '@/lib/registry/protocol/drafts/draft';
import type { DryRunOutcomeView } from '@/lib/registry/protocol/drafts/dryRunOutcome';
import { worldTitle } from '@/lib/run/world';
import { DraftButton } from './DraftButton';
import { DryRunTables } from './DryRunTables';
import { sumText } from './turnedText';

/** What the draft would say of all approved runs: asked for, under way, or found. */
export function DryRunPart({ view, outcome }: { view: DraftView; outcome: DryRunOutcomeView | undefined }) {
  const { dryRun, state, mayEdit, id, revision } = view;
  return (
    <>
      {dryRun === undefined ? (
        <p className="max-w-[46rem]">
          None was made. A dry run judges every approved run by the draft and by the version in force, from
          what it was computed from. Nothing of the runs changes by it.
        </p>
      ) : null}
      <WorkProgress
        progress={view.progress}
        words="runs judged"
        title="The approved runs are being judged by the draft."
      />
      {dryRun?.finishedAt !== undefined ? <Standing dryRun={dryRun} inForce={view.inForce.label} /> : null}
      {outcome === undefined ? null : (
        <>
          {outcome.worlds.length > 1 ? (
            <LinkTabs
              label="Worlds"
              tabs={outcome.worlds.map((world) => ({
                href: `/protocol-versions/drafts/${id}?world=${world}#dry-run`,
                label: worldTitle(world),
                current: world === outcome.sums.world,
              }))}
            />
          ) : null}
          {outcome.sums.world === 'demo' ? <DemoMark /> : null}
          <p className="num max-w-[46rem] text-lg">{sumText(outcome.sums)}</p>
          <DryRunTables draftId={id} outcome={outcome} />
        </>
      )}
      {mayEdit && state !== 'published' && (view.progress === null || view.progress.state === 'failed') ? (
        <DraftButton act="askDryRun" draftId={id} revision={revision}>
          {dryRun === undefined ? 'Make a dry run' : 'Make a new dry run'}
        </DraftButton>
      ) : null}
    </>
  );
}

function Standing({ dryRun, inForce }: { dryRun: NonNullable<DraftView['dryRun']>; inForce: string }) {
  const { finishedAt, isOfDraft, against, isAgainstInForce } = dryRun;
  return (
    <>
      <p className="num mb-4 text-sm text-ink-soft">
        Made against version {against}, finished {finishedAt === undefined ? '' : <Minute at={finishedAt} />}{' '}
        UTC.
      </p>
      {isOfDraft ? null : (
        <Notice kind="caution" title="The draft was changed since this dry run.">
          What follows is of the draft as it was then.
        </Notice>
      )}
      {isAgainstInForce ? null : (
        <Notice kind="caution" title={`Version ${inForce} is in force by now.`}>
          What follows holds the draft against version {against}.
        </Notice>
      )}
    </>
  );
}
