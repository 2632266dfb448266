import { authorise } from '@/lib/access/authorise';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { RUN_STATUSES, type RunStatus } from '@/lib/run/runStatus';
import { carsForForm } from '@/lib/store/cars';
import { loopsForForm } from '@/lib/store/loops';
import { runsOf } from '@/lib/store/runs';
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
  /** What the reviewer wrote, where changes are asked or the run was rejected. */
  note: string;
}

export type MyRuns = Record<RunStatus, MyRun[]>;

/** A tester's own runs by state, the latest first. */
export async function myRuns(registry: Registry, actor: Actor | undefined): Promise<MyRuns> {
  authorise(actor, 'recordRun');
  const [rows, cars, loops] = await Promise.all([
    runsOf(registry.db, actor.accountId),
    carsForForm(registry.db, actor.accountId),
    loopsForForm(registry.db),
  ]);
  // A draft holds its choices as typed: their names are looked up here.
  const carNames = new Map(cars.map((car) => [car.id, car.name]));
  const setupTitles = new Map(
    cars.flatMap((car) => car.model.setups.map((setup) => [setup.id, setup.title] as const)),
  );
  const loopNames = new Map(loops.map((loop) => [loop.id, loop.name]));
  const runs = Object.fromEntries(RUN_STATUSES.map((status) => [status, [] as MyRun[]])) as MyRuns;
  for (const row of rows) {
    const form = row.draft;
    const decision = row.revisions[0]?.decisions[0];
    runs[row.status].push({
      runId: row.id,
      number: row.number,
      status: row.status,
      what: joined([
        row.car?.name ?? carNames.get(form.carId ?? ''),
        row.setup?.title ?? setupTitles.get(form.setupId ?? ''),
        row.loop?.name ?? loopNames.get(form.loopId ?? ''),
        row.cruiseClass?.label ?? cruiseClassByKey(form.cruiseClassKey ?? '')?.label,
      ]),
      date: dateOf(row.revisions[0]?.localDate, form),
      savedAt: row.draftSavedAt.toISOString(),
      ...nextStep(row.status, row.id, row.number),
      note: row.status === 'changesAsked' || row.status === 'rejected' ? (decision?.note ?? '') : '',
    });
  }
  return runs;
}

function joined(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined).join(' · ') || 'Nothing chosen yet';
}

function dateOf(localDate: Date | undefined, form: RunForm): string {
  return dateText(localDate, (form.startedAtLocal ?? '').slice(0, 10));
}

function nextStep(status: RunStatus, runId: string, number: number): { href: string; nextAction: string } {
  const form = `/record/${runId}`;
  const page = `/runs/${number}`;
  switch (status) {
    case 'draft':
      return { href: form, nextAction: 'Go on entering' };
    case 'changesAsked':
      return { href: form, nextAction: 'Answer the reviewer' };
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
