import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { idOrNotFound, idOrNothing } from '@/app/(tester)/readView';
import { DataTable } from '@/app/ui/DataTable';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Notice } from '@/app/ui/Notice';
import { Outcome } from '@/app/ui/Outcome';
import { PageHeader } from '@/app/ui/PageHeader';
import { RunLink } from '@/app/ui/RunLink';
import { Day } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { readDraft } from '@/lib/registry/protocol/drafts/draft';
import { readDryRunOutcome, readTurnedRuns } from '@/lib/registry/protocol/drafts/dryRunOutcome';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { worldTitle } from '@/lib/run/world';
import { sayFound } from '@/lib/units/said';
import { readDraftView } from '../../readDraftView';
import { outcomeWords } from '../turnedText';

export const metadata: Metadata = { title: 'Runs of a dry run' };
export const dynamic = 'force-dynamic';

interface TurnedRunsPageProps {
  params: Promise<{ draftId: string }>;
  searchParams: Promise<SearchParams>;
}

/** The runs of a dry run that turn, by rule, class or setup. */
export default async function TurnedRunsPage({ params, searchParams }: TurnedRunsPageProps) {
  const draftId = idOrNotFound((await params).draftId);
  const query = await searchParams;
  const path = `/protocol-versions/drafts/${draftId}`;
  const actor = await requireSignedIn(`${path}/runs`);
  const draft = await readDraftView(readDraft(registry(), actor, draftId));
  const outcome = await readDryRunOutcome(registry(), actor, { draftId, world: one(query, 'world') });
  const display = await readerDisplay();
  const [rule, to, classKey] = [one(query, 'rule'), one(query, 'to'), one(query, 'class')];
  const setupId = idOrNothing(query.setup);
  const world = outcome?.sums.world ?? 'record';
  const page = await readTurnedRuns(registry(), actor, {
    draftId,
    world,
    rule,
    to,
    classKey,
    setupId,
    from: one(query, 'from'),
  });
  const about = [
    worldTitle(world),
    rule === undefined ? 'all rules together' : `by “${wordsOfRule(rule).title}”`,
    ...(to === undefined ? [] : [`now ${to === 'notChecked' ? 'not checked' : to}`]),
    ...(classKey === undefined ? [] : [cruiseClassByKey(classKey)?.label ?? classKey]),
    ...(setupId === undefined ? [] : [page.rows[0]?.setup ?? 'one setup']),
  ];
  return (
    <>
      <PageHeader
        title={`Runs that turn by draft ${draft.label}`}
        breadcrumbs={[
          { label: 'Protocol versions', href: '/protocol-versions' },
          { label: draft.label, href: path },
          { label: 'Runs' },
        ]}
        meta={about.join(' · ')}
      />
      {draft.dryRun?.isOfDraft === false ? (
        <Notice kind="caution" title="The draft was changed since this dry run." />
      ) : null}
      <DataTable
        caption="Runs that turn, by number"
        captionHidden
        rows={outcome === undefined ? [] : page.rows}
        rowKey={(row) => String(row.number)}
        empty="None."
        columns={[
          {
            key: 'run',
            header: 'Run',
            rowHeader: true,
            cell: (row) => <RunLink number={row.number} />,
          },
          {
            key: 'before',
            header: `By ${draft.dryRun?.against ?? 'the version in force'}`,
            cell: (row) => <Whole outcome={row.before} />,
          },
          {
            key: 'after',
            header: `By ${draft.label}`,
            answer: true,
            cell: (row) => <Whole outcome={row.after} />,
          },
          {
            key: 'rules',
            header: 'Rules that say something else',
            wide: true,
            cell: (row) => (
              <ul className="space-y-2">
                {row.changes.map((change) => (
                  <li key={change.ruleId}>
                    <span className="font-semibold">{change.title}</span>, from {outcomeWords(change.before)}{' '}
                    to {outcomeWords(change.after)}: {sayFound(change, display)}
                  </li>
                ))}
              </ul>
            ),
          },
          {
            key: 'of',
            header: 'Setup, class and day',
            cell: (row) => (
              <>
                {row.setup}
                <span className="block text-ink-soft">
                  {row.classLabel}, <Day of={row.localDate} />
                </span>
              </>
            ),
          },
        ]}
      />
      <KeysetPages
        previous={page.previous}
        next={page.next}
        label="Pages of runs"
        hrefFor={(from) => hrefWith(`${path}/runs`, query, { from })}
      />
    </>
  );
}

function Whole({ outcome }: { outcome: Parameters<typeof outcomeWords>[0] }) {
  return outcome === null ? <>could not be judged</> : <Outcome outcome={outcome} />;
}
