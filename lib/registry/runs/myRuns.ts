import { z } from 'zod';
import { authorise, requireSignedIn } from '@/lib/access/authorise';
import { reviewersWords } from '@/lib/protocol/reasons';
import { hashOfRules } from '@/lib/protocol/rulePlace';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { isChosenId } from '@/lib/run/formIds';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { RUN_STATUSES, type RunStatus } from '@/lib/run/runStatus';
import { countRunsOf, namesOfChoices, runsOf } from '@/lib/store/myRuns';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

export interface MyRun {
  runId: string;
  number: number;
  status: RunStatus;
  /** Car, setup, loop and class, as far as chosen. */
  what: string;
  /** Date at the loop, or when the draft was saved last. */
  date: string;
  savedAt: string;
  /** The page on which it goes on, and what is to do there. */
  href: string;
  nextAction: string;
  /** Why, in the reviewer's words, where changes are asked or the run was rejected. */
  note: string;
}

/** Of every state at least one page; the states without a run are left out. */
export interface MyRuns {
  counts: Map<RunStatus, number>;
  pages: { status: RunStatus; page: Page<MyRun> }[];
}

export interface MyRunsQuery {
  /** Only these; all where none is named. */
  statuses?: readonly RunStatus[];
  /** A page of the one state that is named. */
  from?: string | undefined;
}

const PAGE_SIZE = 25;

/** A tester's own runs by state, those saved last first, and how many there are in each state. */
export async function myRuns(
  registry: Registry,
  actor: Actor | undefined,
  { statuses = RUN_STATUSES, from }: MyRunsQuery = {},
): Promise<MyRuns> {
  requireSignedIn(actor);
  const counts = await countRunsOf(registry.db, actor.accountId);
  const pages = await Promise.all(
    statuses
      .filter((status) => counts.has(status))
      .map(async (status) => ({
        status,
        page: await pageOf(registry, actor, status, statuses.length === 1 ? from : undefined),
      })),
  );
  return { counts, pages };
}

/** Where a run is begun: what of the tester's is not sent yet. */
export async function runsToSend(registry: Registry, actor: Actor | undefined): Promise<MyRuns> {
  authorise(actor, 'recordRun');
  return myRuns(registry, actor, { statuses: ['changesAsked', 'draft'] });
}

async function pageOf(
  registry: Registry,
  { accountId }: Actor,
  status: RunStatus,
  from: string | undefined,
): Promise<Page<MyRun>> {
  const page = await readPage(from, {
    size: PAGE_SIZE,
    key: z.tuple([keyPart.instant, keyPart.integer]),
    read: (place, take) => runsOf(registry.db, { testerId: accountId, status }, place, take),
    keyOf: ({ draftSavedAt, number }) => [draftSavedAt.toISOString(), number],
  });
  // A draft holds its choices as typed: their names are looked up here.
  const chosen = (field: string) => [
    ...new Set(page.rows.map(({ draft }) => draft[field] ?? '').filter(isChosenId)),
  ];
  const names = await namesOfChoices(registry.db, {
    ownerId: accountId,
    carIds: chosen('carId'),
    setupIds: chosen('setupId'),
    loopIds: chosen('loopId'),
  });
  return { ...page, rows: page.rows.map((row) => myRun(row, names)) };
}

function myRun(row: Awaited<ReturnType<typeof runsOf>>[number], names: ReadonlyMap<string, string>): MyRun {
  const form = row.draft;
  const decision = row.revisions[0]?.decisions[0];
  return {
    runId: row.id,
    number: row.number,
    status: row.status,
    what: joined([
      row.car?.name ?? names.get(form.carId ?? ''),
      row.setup?.title ?? names.get(form.setupId ?? ''),
      row.loop?.name ?? names.get(form.loopId ?? ''),
      row.cruiseClass?.label ?? cruiseClassByKey(form.cruiseClassKey ?? '')?.label,
    ]),
    date: dateOf(row.revisions[0]?.localDate, form),
    savedAt: row.draftSavedAt.toISOString(),
    ...nextStep(row, hashOfRules((decision?.reasons ?? []).map(({ ruleId }) => ruleId))),
    note:
      decision !== undefined && (row.status === 'changesAsked' || row.status === 'rejected')
        ? reviewersWords(decision)
        : '',
  };
}

function joined(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined).join(' · ') || 'Nothing chosen yet';
}

function dateOf(localDate: Date | undefined, form: RunForm): string {
  return dateText(localDate, (form.startedAtLocal ?? '').slice(0, 10));
}

function nextStep(
  { status, id, number }: { status: RunStatus; id: string; number: number },
  asked: string,
): { href: string; nextAction: string } {
  const form = `/record/${id}`;
  const page = `/runs/${number}`;
  switch (status) {
    case 'draft':
      return { href: form, nextAction: 'Go on entering' };
    case 'changesAsked':
      return { href: `${form}${asked}`, nextAction: 'Answer the reviewer' };
    case 'submitted':
      return { href: form, nextAction: 'Waits for a reviewer; can be withdrawn' };
    case 'approved':
      return { href: page, nextAction: 'Counts in the rankings' };
    case 'rejected':
      return { href: page, nextAction: 'Read the reasons' };
    case 'retracted':
    case 'superseded':
      return { href: page, nextAction: 'Kept in the record' };
  }
}
