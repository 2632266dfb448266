import type { ReactNode } from 'react';
import { FailsToday } from '@/app/runDossier/FailsToday';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { StatusTag } from '@/app/ui/StatusTag';
import { ZoneNote } from '@/app/ui/When';
import type { ReviewView } from '@/lib/registry/review/review';
import type { Display } from '@/lib/units/display';
import { ClaimBar } from './ClaimBar';
import { DecisionPart } from './DecisionPart';
import { ReviewParts } from './ReviewParts';

interface ReviewDeskProps {
  view: ReviewView;
  display: Display;
  notice: ReactNode;
  /** The address of a page of the run’s log by its cursor. */
  logHref: (cursor: string | undefined) => string;
}

/**
 * What a reviewer reads, in the order of reading: what the rules found, what the others let expect, the photos. The
 * decision stands in a column beside it, or where there is no room, one step away on a bar that ends before it.
 */
export function ReviewDesk({ view, display, notice, logHref }: ReviewDeskProps) {
  const { run } = view;
  const { subject } = run;
  return (
    <>
      <PageHeader
        breadcrumbs={[{ label: 'Review queue', href: '/queue' }, { label: `Run ${run.number}` }]}
        title={`Review of run ${run.number}`}
        meta={
          <>
            <StatusTag state={run.isClaimed ? 'claimed' : run.status} />
            <span>Revision {run.revisionNumber}</span>
            <ZoneNote utcOffsetMin={subject.utcOffsetMin} where="the clock at the loop" />
            <Link className="link" href={`/runs/${run.number}`}>
              Its page, with every step and the whole budget
            </Link>
            <a className="link" href="#decision">
              To the decision
            </a>
          </>
        }
        lead={`${subject.model.name}, ${subject.setup.title}, on ${subject.loop.name} at a true ${subject.classLabel}, by ${subject.tester.displayName}.`}
      />
      <FailsToday today={run.today} />
      {notice}
      {run.world === 'demo' ? <DemoMark /> : null}
      <ClaimBar view={view} />
      <div className="mt-8 xl:grid xl:grid-cols-[minmax(0,1fr)_21rem] xl:gap-10">
        <div className="min-w-0">
          <ReviewParts view={view} display={display} logHref={logHref} />
          <ReviewBar view={view} />
        </div>
        <aside
          aria-label="Decision"
          className="xl:sticky xl:top-4 xl:max-h-[calc(100dvh-2rem)] xl:self-start xl:overflow-y-auto xl:border-l xl:border-rule xl:pl-6"
        >
          <Section id="decision" title="Decision" wide>
            <DecisionPart view={view} />
          </Section>
        </aside>
      </div>
    </>
  );
}

/** One row at the foot of a narrow window: what was found, and the way to the decision. It ends where that begins. */
function ReviewBar({ view: { run } }: { view: ReviewView }) {
  const { fail, caution } = run.findings.counts;
  return (
    <div
      data-foot-bar
      className="no-print sticky bottom-0 z-10 mt-8 flex items-center justify-between gap-4 border-t border-rule-strong bg-paper py-1.5 xl:hidden"
    >
      <span className="num text-sm">
        Run {run.number}: {fail} {fail === 1 ? 'fail' : 'fails'}, {caution}{' '}
        {caution === 1 ? 'caution' : 'cautions'}
      </span>
      <LinkButton href="#decision" variant="primary">
        Decide
      </LinkButton>
    </div>
  );
}
