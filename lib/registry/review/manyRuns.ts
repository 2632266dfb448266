import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { dateText, midnightUtc } from '@/lib/run/localDate';
import type { ManyAct } from '@/lib/run/manyActs';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { HOLDABLE_STATUSES, RUN_STATUS_LABELS } from '@/lib/run/runStatus';
import { onlyWorldOf, RECORD, WORLDS, type WorldKey, worldKey, worldTitle } from '@/lib/run/world';
import { carTies, clusterTesters } from '@/lib/stats/testerClusters';
import {
  accountsNamed,
  countManyRuns,
  driversOfCars,
  listManyRuns,
  type ManyFilter,
  type ManyRow,
  manyRunsByNumber,
} from '@/lib/store/manyRuns';
import { openlyReportedRuns } from '@/lib/store/publicReports';
import { shownLabel } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import { knownTesters } from '../rankings/testerTies';
import type { Registry } from '../registry';

/** So many at once: they are locked together, and more are not looked at one by one. */
export const MOST_AT_ONCE = 100;
const PAGE_SIZE = 50;
/** Runs with an open report, the latest first. */
const MOST_REPORTED = 500;

export interface ManyQuery {
  act: ManyAct;
  tester?: string | undefined;
  /** With those who count as one with the tester in a fit. */
  withCluster?: boolean;
  carOfRun?: number | undefined;
  loop?: string | undefined;
  setup?: string | undefined;
  fromDay?: string | undefined;
  toDay?: string | undefined;
  /** Those with a report that nobody settled. */
  onlyReported?: boolean;
  from?: string | undefined;
}

export interface ListedMany {
  number: number;
  /** What of it has to be as it was seen for the act to be done. */
  seen: string;
  state: string;
  holdReason: string | undefined;
  tester: { displayName: string; slug: string };
  what: string;
  loop: string;
  classLabel: string;
  day: string;
  isCounted: boolean;
}

export interface ManyView extends Page<ListedMany> {
  total: number;
  /** How many testers the filter is about; undefined where it names none. */
  testers: number | undefined;
}

/** The runs that an act could be done to, by what they have in common. */
export async function readManyRuns(
  registry: Registry,
  actor: Actor | undefined,
  query: ManyQuery,
): Promise<ManyView> {
  authorise(actor, 'actOnManyRuns');
  const testerIds = query.tester === undefined ? undefined : await testersMeant(registry, query);
  const filter: ManyFilter = {
    act: query.act,
    testerIds,
    carOfRun: query.carOfRun,
    loopSlug: lastPart(query.loop),
    setupSlug: lastPart(query.setup),
    fromDay: dayOf(query.fromDay),
    toDay: dayOf(query.toDay),
    runIds: query.onlyReported ? await openlyReportedRuns(registry.db, MOST_REPORTED) : undefined,
    onlyWorld: onlyWorldOf(actor),
  };
  const [page, total] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.integer]).transform(([last]) => last),
      read: (place, take) => listManyRuns(registry.db, filter, place, take),
      keyOf: ({ number }) => [number],
    }),
    countManyRuns(registry.db, filter),
  ]);
  return { ...page, total, testers: testerIds?.length, rows: page.rows.map(listedMany) };
}

export interface ManyPreview {
  /** What the act would be done to. */
  runs: ListedMany[];
  refused: { number: number; why: string }[];
  /** How many of them begin or cease to count. */
  counted: number;
  /** The classes that are fitted again, with their world. */
  classes: string[];
  /** How many models learn their road load anew. */
  models: number;
}

/** What an act would change, before it is done. */
export async function previewManyRuns(
  registry: Registry,
  actor: Actor | undefined,
  { act, numbers }: { act: ManyAct; numbers: readonly number[] },
): Promise<ManyPreview> {
  authorise(actor, 'actOnManyRuns');
  const rows = await manyRunsByNumber(registry.db, numbers.slice(0, MOST_AT_ONCE));
  const judged = rows.map((row) => ({ row, why: refusalOf(actor, act, row) }));
  const done = judged.filter(({ why }) => why === undefined).map(({ row }) => row);
  const moved = done.filter((row) => movesCount(act, row));
  return {
    runs: done.map(listedMany),
    refused: judged.flatMap(({ row, why }) => (why === undefined ? [] : [{ number: row.number, why }])),
    counted: moved.length,
    classes: classesOf(moved),
    models: new Set(moved.flatMap(({ setup }) => setup?.modelId ?? [])).size,
  };
}

/** Why the act cannot be done to this run, by this person; undefined where it can. */
export function refusalOf(actor: Actor, act: ManyAct, row: ManyRow): string | undefined {
  const [right, own] =
    act === 'retract'
      ? (['retractRun', 'not yours to retract'] as const)
      : (['holdRun', 'your own: another steward decides'] as const);
  if (!may(actor, right, row.testerId, worldKey(row.world))) return own;
  if (act === 'retract') return row.status === 'approved' ? undefined : `not approved, but ${stateOf(row)}`;
  const isHeld = row.holds.length > 0;
  if (act === 'lift') return isHeld ? undefined : 'not held';
  if (isHeld) return 'held already';
  return HOLDABLE_STATUSES.includes(row.status) ? undefined : `counts nowhere: ${stateOf(row)}`;
}

/** What of a run was looked at: a change of it means that it has to be looked at again. */
export function seenOf({ number, status, holds, revisions }: ManyRow): string {
  return [number, status, holds.length > 0 ? 'held' : 'free', revisions[0]?.number ?? 0].join('.');
}

function movesCount(act: ManyAct, row: ManyRow): boolean {
  return act === 'lift' ? row.status === 'approved' : row._count.countedRuns > 0;
}

function classesOf(rows: readonly ManyRow[]): string[] {
  const words = rows.flatMap(({ cruiseClassKey, world }) => {
    const found = cruiseClassByKey(cruiseClassKey ?? '');
    if (found === undefined) return [];
    return world === RECORD ? found.label : `${found.label} (${worldTitle(worldKey(world)).toLowerCase()})`;
  });
  return [...new Set(words)].sort();
}

function listedMany(row: ManyRow): ListedMany {
  return {
    number: row.number,
    seen: seenOf(row),
    state: RUN_STATUS_LABELS[row.status],
    holdReason: row.holds[0]?.reason,
    tester: row.tester,
    what: row.setup === null ? '' : `${modelWords(row.setup.model)}, ${row.setup.title}`,
    loop: row.loop?.name ?? '',
    classLabel: cruiseClassByKey(row.cruiseClassKey ?? '')?.label ?? '',
    day: dateText(row.localDate),
    isCounted: row._count.countedRuns > 0,
  };
}

function stateOf({ status }: ManyRow): string {
  return RUN_STATUS_LABELS[status].toLowerCase();
}

/** The testers of the name, and on demand all that count as one with any of them in either world. */
async function testersMeant(registry: Registry, { tester, withCluster }: ManyQuery): Promise<string[]> {
  const named = await accountsNamed(registry.db, lastPart(tester) ?? '');
  const ids = named.map(({ id }) => id);
  if (!withCluster || ids.length === 0) return ids;
  const clusters = await Promise.all(WORLDS.map((world) => clusterWith(registry, world, ids)));
  return [...new Set([...ids, ...clusters.flat()])];
}

async function clusterWith(registry: Registry, world: WorldKey, ids: readonly string[]): Promise<string[]> {
  const methodVersion = await shownLabel(registry.db, world);
  const [{ ties }, drivers] = await Promise.all([
    knownTesters(registry, { world, methodVersion }),
    driversOfCars(registry.db, world),
  ]);
  const clusters = clusterTesters(ids, [...ties, ...carTies(drivers)]);
  const meant = new Set(ids.map((id) => clusters.get(id)));
  return [...clusters].flatMap(([id, cluster]) => (meant.has(cluster) ? id : []));
}

/** Of an address, or the text itself. */
function lastPart(text: string | undefined): string | undefined {
  const part = (text?.split(/[?#]/)[0] ?? '').replace(/\/+$/, '').split('/').at(-1)?.trim();
  return part === '' ? undefined : part;
}

function dayOf(text: string | undefined): Date | undefined {
  return z.iso.date().safeParse(text).success && text !== undefined && !text.startsWith('0000')
    ? midnightUtc(text)
    : undefined;
}
