import { randomUUID } from 'node:crypto';
import type { Metadata } from 'next';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readWorthForMe } from '@/lib/registry/requests/worthForMe';
import { awaitsFirstRun } from '@/lib/registry/runs/firstRun';
import { runsToSend } from '@/lib/registry/runs/myRuns';
import { latestDays } from '@/lib/registry/sessionSheets/latestDays';
import { nextOfStudies } from '@/lib/registry/studies/beginPlannedRun';
import { RUN_STATUS_LABELS } from '@/lib/run/runStatus';
import { RunTable } from '../my/RunTable';
import { readView } from '../readView';
import { NextInStudy } from '../studies/NextInStudy';
import { LatestDays } from './LatestDays';
import { StartDay } from './StartDay';
import { StartRun } from './StartRun';
import { WorthMine } from './WorthMine';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Record a run' };

export default async function RecordPage() {
  const actor = await requireSignedIn('/record');
  const { pages } = await readView(runsToSend(registry(), actor));
  const [{ days, today }, nexts, isFirst, mine, display] = await Promise.all([
    latestDays(registry(), actor),
    nextOfStudies(registry(), actor),
    awaitsFirstRun(registry(), actor),
    readWorthForMe(registry(), actor),
    readerDisplay(),
  ]);
  const open = pages.flatMap(({ page }) => page.rows);
  const more = pages.filter(({ page }) => page.next !== undefined);
  return (
    <>
      <PageHeader
        title="Record a run"
        lead="Enter what the displays showed, in their own units. A draft is saved as you type and can wait."
        actions={<StartRun creationKey={randomUUID()} />}
      />
      {isFirst ? (
        <Notice kind="info" title="Your first run?">
          <Link className="link" href="/record/first">
            One path leads there
          </Link>
          : your car, a loop, then the form. It can be left and gone on with.
        </Notice>
      ) : null}
      <SafetyCaution kind="record" />
      {nexts.length > 0 ? (
        <Section
          id="studies"
          title="Next in your studies"
          note="By the plan, and by what was sent in or noted."
        >
          <ul className="space-y-6">
            {nexts.map((next) => (
              <li key={next.study.studyId}>
                <Link className="link font-semibold" href={`/studies/${next.study.slug}`}>
                  {next.study.question}
                </Link>
                <NextInStudy next={next} />
              </li>
            ))}
          </ul>
        </Section>
      ) : null}
      <Section
        id="day"
        title="A day’s runs"
        note="Several runs of one car on one loop: what they share is said once."
      >
        <StartDay creationKey={randomUUID()} today={today} />
        <LatestDays days={days} />
        <p className="mt-4 max-w-[46rem]">
          With recordings of several runs at hand,{' '}
          <Link className="link" href="/record/recordings">
            make drafts of all of them at once
          </Link>
          .
        </p>
      </Section>
      <Section id="open" title="Not sent yet">
        {open.length > 0 ? (
          <RunTable caption="Drafts and runs with changes asked" runs={open} />
        ) : (
          <EmptyState title="No drafts">Start one with the button above.</EmptyState>
        )}
        {more.map(({ status }) => (
          <p key={status} className="mt-3">
            <Link className="link" href={`/my?state=${status}`}>
              All with the state “{RUN_STATUS_LABELS[status]}”
            </Link>
          </p>
        ))}
      </Section>
      {mine === undefined ? null : <WorthMine mine={mine} display={display} />}
    </>
  );
}
