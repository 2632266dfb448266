import type { Metadata } from 'next';
import { Notice, type NoticeKind } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { daySheet } from '@/lib/registry/sessionSheets/daySheet';
import { dayWords } from '@/lib/run/localDate';
import { idOrNotFound, idOrNothing, readView } from '../../../readView';
import { DayForm } from './DayForm';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'A day’s runs' };

interface DayPageProps {
  params: Promise<{ sheetId: string }>;
  searchParams: Promise<{ run?: string | string[]; notice?: string | string[] }>;
}

/** What may have led here. */
const NOTICES: ReadonlyMap<string, { kind: NoticeKind; title: string }> = new Map([
  ['saved', { kind: 'done', title: 'The day is saved.' }],
  ['sent', { kind: 'done', title: 'Sent for review. What was sent does not change with the day any more.' }],
  [
    'noneComplete',
    {
      kind: 'problem',
      title: 'No run of this day is complete yet: open each to see what is missing.',
    },
  ],
]);

export default async function DayPage({ params, searchParams }: DayPageProps) {
  const sheetId = idOrNotFound((await params).sheetId);
  const actor = await requireSignedIn(`/record/day/${sheetId}`);
  const { run, notice } = await searchParams;
  const view = await readView(daySheet(registry(), actor, sheetId, idOrNothing(run)));
  const said = NOTICES.get(String(notice));
  return (
    <>
      <PageHeader
        title={`Runs of ${dayWords(view.localDate)}`}
        breadcrumbs={[{ label: 'Record', href: '/record' }, { label: dayWords(view.localDate) }]}
        lead="What is the same all day is said once; each run has only what changes."
      />
      {said ? (
        <Notice kind={said.kind} title={said.title} live outcome={`${notice} ${view.open?.runId}`} />
      ) : null}
      <SafetyCaution kind="record" />
      <DayForm
        key={`${view.sheetId} ${view.open?.runId} ${view.runs.length}`}
        view={view}
        display={await readerDisplay()}
      />
    </>
  );
}
