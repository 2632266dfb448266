import { DataTable } from '@/app/ui/DataTable';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Minute } from '@/app/ui/When';
import type { TrailDecision, TrailRevision } from '@/lib/protocol/runTrail';
import type { RunView } from '@/lib/registry/runs/run';
import { prepositionOf } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { showQuantity, showWithUncertainty } from '@/lib/units/show';

const WORDS = { approve: 'approved it', askChanges: 'asked for changes', reject: 'rejected it' } as const;

/** Every revision with its decision and the reasons, and every step that the log kept. */
export function Trail({
  view,
  display,
  logHref,
}: {
  view: RunView;
  display: Display;
  /** The address of a page of the log by its cursor. */
  logHref: (cursor: string | undefined) => string;
}) {
  const { audit } = view;
  const { utcOffsetMin } = view.subject;
  return (
    <>
      <ol className="space-y-6">
        {view.revisions.map((revision) => (
          <li key={revision.number}>
            <Revision revision={revision} utcOffsetMin={utcOffsetMin} />
          </li>
        ))}
      </ol>
      {view.result && view.result.earlier.length > 0 ? <Earlier view={view} display={display} /> : null}
      <details id="log" className="mt-6" open={audit.previous !== undefined}>
        <summary className="disclosure">
          The log: {audit.total} {audit.total === 1 ? 'step' : 'steps'}
        </summary>
        <DataTable
          caption="Steps in the log, the latest first"
          captionHidden
          rows={audit.rows}
          rowKey={(step) => step.id}
          columns={[
            {
              key: 'at',
              header: 'When',
              rowHeader: true,
              cell: (step) => <Minute at={step.at} utcOffsetMin={utcOffsetMin} />,
            },
            { key: 'what', header: 'What', cell: (step) => step.what },
            { key: 'by', header: 'Who', cell: (step) => step.by },
          ]}
        />
        <KeysetPages {...audit} label="Pages of the log" hrefFor={logHref} />
      </details>
    </>
  );
}

function Revision({ revision, utcOffsetMin }: { revision: TrailRevision; utcOffsetMin: number }) {
  return (
    <>
      <h3>Revision {revision.number}</h3>
      <p className="text-sm text-ink-soft">
        Submitted <Minute at={revision.submittedAt} utcOffsetMin={utcOffsetMin} /> by{' '}
        {revision.submittedBy.displayName}, judged under protocol {revision.protocolLabel}.
      </p>
      {revision.decisions.length === 0 && revision.appeal === null ? (
        <p className="mt-1 text-sm">No decision yet.</p>
      ) : (
        revision.decisions.map((decision) => (
          <Decision
            key={`${decision.by.slug} ${decision.kind} ${decision.at}`}
            decision={decision}
            utcOffsetMin={utcOffsetMin}
          />
        ))
      )}
      {revision.appeal ? (
        <p className="mt-2 max-w-[38rem] text-sm">
          Appealed against the rejection {prepositionOf(revision.appeal.at)}{' '}
          <Minute at={revision.appeal.at} utcOffsetMin={utcOffsetMin} />: {revision.appeal.words}
        </p>
      ) : null}
    </>
  );
}

function Decision({ decision, utcOffsetMin }: { decision: TrailDecision; utcOffsetMin: number }) {
  return (
    <div className="mt-2 max-w-[38rem] text-sm">
      <p>
        {decision.by.displayName} {WORDS[decision.kind]} {prepositionOf(decision.at)}{' '}
        <Minute at={decision.at} utcOffsetMin={utcOffsetMin} />.
      </p>
      {decision.secondFor.length > 0 ? (
        <p className="mt-1">A second approval was needed: {decision.secondFor.join('; ')}.</p>
      ) : null}
      {decision.note ? <p className="mt-1">Note: {decision.note}</p> : null}
      {decision.reasons.length > 0 ? (
        <dl className="mt-2 space-y-2">
          {decision.reasons.map((reason) => (
            <div key={reason.ruleId}>
              <dt className="font-semibold">{reason.title}</dt>
              <dd>{reason.text}</dd>
            </div>
          ))}
        </dl>
      ) : null}
    </div>
  );
}

function Earlier({ view, display }: { view: RunView; display: Display }) {
  return (
    <div className="mt-6 text-sm">
      <h3>Under earlier method versions</h3>
      <ul className="mt-1">
        {view.result?.earlier.map((one) => (
          <li key={one.methodVersion}>
            Method {one.methodVersion}:{' '}
            {one.normalisedWhPerKm === null
              ? 'no number'
              : one.uWhPerKm
                ? showWithUncertainty(one.normalisedWhPerKm, one.uWhPerKm, 'consumption', display)
                : showQuantity(one.normalisedWhPerKm, 'consumption', display)}
          </li>
        ))}
      </ul>
    </div>
  );
}
