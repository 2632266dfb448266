import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { DraftView } from '@/lib/registry/protocol/drafts/draft';
import { dayWords } from '@/lib/run/localDate';
import { DraftButton } from './DraftButton';
import { PublishDraftForm } from './PublishDraftForm';

/** When a draft comes into force: not yet, on a day, or since then. */
export function Activation({ view }: { view: DraftView }) {
  const { id, label, revision, state, from, inForce } = view;
  if (state === 'published')
    return (
      <p className="max-w-[46rem]">
        It came into force as{' '}
        <Link className="link" href={`/protocol/${encodeURIComponent(label)}`}>
          version {label}
        </Link>{' '}
        and is not changed any more.
      </p>
    );
  if (state === 'announced')
    return (
      <>
        <p className="max-w-[46rem]">
          {view.announcedBy?.displayName ?? 'A steward'} announced it: it comes into force as{' '}
          {dayWords(from ?? '')} begins, at 00:00 UTC. Until then version {inForce.label} judges, and nothing
          of the draft can be changed.
        </p>
        {view.mayEdit ? (
          <DraftButton act="takeBack" draftId={id} revision={revision}>
            Take the announcement back
          </DraftButton>
        ) : null}
      </>
    );
  if (!view.mayEdit)
    return (
      <p className="max-w-[46rem] text-ink-soft">
        The protocol is the record’s as well. An account of the demo world reads the draft; only a steward of
        the registry changes it or puts it in force.
      </p>
    );
  return (
    <>
      {view.dryRun?.finishedAt !== undefined && view.dryRun.isOfDraft ? null : (
        <Notice kind="caution" title="No dry run was made of the draft as it stands.">
          What it would say of the runs that count already is not known.
        </Notice>
      )}
      <PublishDraftForm
        draftId={id}
        revision={revision}
        label={label}
        seenVersionId={inForce.id}
        inForceLabel={inForce.label}
      />
    </>
  );
}
