import { randomUUID } from 'node:crypto';
import { ContinueDay } from '@/app/(tester)/record/ContinueDay';
import { FailsToday } from '@/app/runDossier/FailsToday';
import { Headline } from '@/app/runDossier/Headline';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { StatusTag } from '@/app/ui/StatusTag';
import { UnitNote } from '@/app/ui/UnitNote';
import { Day, ZoneNote } from '@/app/ui/When';
import type { RunView } from '@/lib/registry/runs/run';
import { momentWords, prepositionOf } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { AppealForm } from './AppealForm';
import { OpenCorrections } from './OpenCorrections';
import { RunActs } from './RunActs';
import { WithdrawForm } from './WithdrawForm';

interface RunHeadProps {
  view: RunView;
  isSent: boolean;
  display: Display;
  ownUnitHref: string | undefined;
}

/** Which run, in what state, and its number; with what its tester or a reviewer can do. */
export function RunHead({ view, isSent, display, ownUnitHref }: RunHeadProps) {
  const { allowed, subject } = view;
  return (
    <>
      <PageHeader
        breadcrumbs={[{ label: 'Runs', href: '/runs' }, { label: `Run ${view.number}` }]}
        title={`Run ${view.number}`}
        meta={
          <>
            <StatusTag state={view.isClaimed ? 'claimed' : view.status} />
            <Day of={subject.localDate} />
            <span>{subject.tester.displayName}</span>
            {subject.startedAt === null ? null : (
              <ZoneNote utcOffsetMin={subject.utcOffsetMin} where="the clock at the loop" />
            )}
          </>
        }
        lead={`${subject.model.name}, ${subject.setup.title}, on ${subject.loop.name} at a true ${subject.classLabel}.`}
        actions={
          <>
            {allowed.review ? (
              <LinkButton href={`/review/${view.number}`} variant="primary">
                Review this run
              </LinkButton>
            ) : null}
            {allowed.edit ? (
              <LinkButton href={`/record/${view.runId}`} variant="primary">
                {view.status === 'draft' ? 'Go on editing' : 'Make the changes'}
              </LinkButton>
            ) : null}
            {allowed.correct ? (
              <LinkButton href={`/runs/${view.number}/correct`}>Correct a reading</LinkButton>
            ) : null}
            {allowed.goOn ? <ContinueDay runId={view.runId} creationKey={randomUUID()} /> : null}
            {allowed.withdraw ? <WithdrawForm runId={view.runId} number={view.number} /> : null}
          </>
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {isSent && view.status === 'submitted' ? (
        <Notice kind="done" title="The run is submitted and waits for review." live outcome="sent">
          A reviewer reads it next; you are told what they decide.
        </Notice>
      ) : null}
      {view.awaitsSecond ? (
        <Notice kind="info" title="It waits for a second approval.">
          Runs that weigh more are read by two reviewers, who do not see each other’s decision before their
          own.
        </Notice>
      ) : null}
      {view.isPublic ? null : (
        <Notice kind="info" title="Not public: only its tester and reviewers see this page." />
      )}
      {view.retraction ? (
        <Notice
          kind="problem"
          title={`Retracted by ${view.retraction.by.displayName} ${prepositionOf(view.retraction.at)} ${momentWords(view.retraction.at, subject.utcOffsetMin)}`}
        >
          <p>{view.retraction.reason}</p>
          <p>It no longer counts in any ranking or comparison and stays readable here.</p>
        </Notice>
      ) : null}
      {view.hold ? (
        <Notice
          kind="caution"
          title={`Held ${view.hold.by === null ? 'by the registry' : `by ${view.hold.by.displayName}`} since ${momentWords(view.hold.at, subject.utcOffsetMin)}`}
        >
          <p>{view.hold.reason}</p>
          <p>Until a steward lifts the hold it counts in no ranking or comparison.</p>
        </Notice>
      ) : null}
      <FailsToday today={view.today} />
      <OpenCorrections view={view} display={display} />
      {view.supersededByNumber === null ? null : (
        <Notice kind="caution" title="A later run has taken the place of this one.">
          <Link className="link" href={`/runs/${view.supersededByNumber}`}>
            Run {view.supersededByNumber}
          </Link>
        </Notice>
      )}
      <div className="mb-10">
        <Headline view={view} display={display} />
        <div className="mt-4">
          <UnitNote unit={display.consumption} ownHref={ownUnitHref} />
        </div>
        {allowed.appeal ? <AppealForm runId={view.runId} number={view.number} /> : null}
        <RunActs view={view} />
      </div>
    </>
  );
}
