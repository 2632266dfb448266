import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { ImportPageView } from '@/lib/registry/imports/importPage';
import { ImportButton } from './ImportForms';
import { ImportProgress } from './ImportProgress';

/** Where the import stands and what can be done about it. */
export function Standing({ view }: { view: ImportPageView }) {
  const { id, state } = view;
  if (view.hasFailed) {
    return (
      <Notice kind="problem" title="The background met an error and stopped.">
        <p>What was done so far is kept and is not repeated.</p>
        <ImportButton importId={id} kind="resume" />
      </Notice>
    );
  }
  if (state === 'checking')
    return <ImportProgress importId={id} state={state} done={0} total={view.rowsRead} />;
  if (state === 'running' || state === 'undoing') {
    const isRunning = state === 'running';
    return (
      <>
        <ImportProgress
          key={state}
          importId={id}
          state={state}
          done={isRunning ? Math.max(view.rowsDone, view.rowsMade) : view.withdrawn}
          total={isRunning ? view.rowsRead : view.rowsMade}
        />
        {isRunning ? (
          <div className="mt-4">
            <ImportButton importId={id} kind="stop" />
          </div>
        ) : null}
      </>
    );
  }
  if (state === 'done') {
    return (
      <Notice
        kind="done"
        title={
          view.rowsMade === 1
            ? 'One run made and sent for review.'
            : `${view.rowsMade} runs made and sent for review.`
        }
      >
        <p>
          They are among{' '}
          <Link href="/my" className="link">
            your runs
          </Link>
          . Taking the import back makes drafts of those that no reviewer has decided on.
        </p>
        {view.drafts > 0 ? (
          <p>
            {view.drafts === 1
              ? 'One row failed a rule and is a draft'
              : `${view.drafts} rows failed a rule and are drafts`}{' '}
            among your runs.
          </p>
        ) : null}
        <ImportButton importId={id} kind="undo" />
      </Notice>
    );
  }
  if (state === 'stopped') {
    return (
      <Notice kind="problem" title="Nothing was imported.">
        <p>
          A row that passed the check could no longer be taken, and all or nothing was chosen. The{' '}
          {view.withdrawn} runs made before it were taken back and are drafts.
        </p>
        <ImportButton importId={id} kind="again" />
      </Notice>
    );
  }
  if (state === 'undone') return <Undone view={view} />;
  return null;
}

function Undone({ view }: { view: ImportPageView }) {
  return (
    <Notice
      kind="info"
      title={
        view.withdrawn === 1
          ? 'One run was taken back and is a draft.'
          : `${view.withdrawn} runs were taken back and are drafts.`
      }
    >
      {view.kept.length === 0 ? null : (
        <>
          <p>These had been decided on and stay:</p>
          <ul>
            {view.kept.map((run) => (
              <li key={run.runNumber}>
                <Link href={`/runs/${run.runNumber}`} className="link num">
                  Run {run.runNumber}
                </Link>{' '}
                ({run.status.toLowerCase()})
              </li>
            ))}
          </ul>
        </>
      )}
      <p>Nothing has to be sent again: the sheet is kept, with how it was read.</p>
      <ImportButton importId={view.id} kind="again" />
    </Notice>
  );
}
