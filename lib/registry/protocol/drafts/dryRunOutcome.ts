import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import {
  dryRunOf,
  type KeptOutcome,
  listTurned,
  type Turned,
  turnedByClass,
  turnedByRule,
  turnedBySetup,
  turnedByWorld,
} from '@/lib/store/dryRuns';
import type { Said } from '@/lib/units/said';
import { keyPart, type Page, readPage } from '../../keyset';
import type { Registry } from '../../registry';

const PAGE_SIZE = 50;
const MOST_SETUPS = 25;

/** How many runs turned into each; only those that turned. */
export interface TurnedCounts {
  fail: number;
  caution: number;
  pass: number;
}

export interface DryRunSums {
  world: WorldKey;
  runs: number;
  /** What a draft does to whole runs: by the worst that its rules say. */
  turned: TurnedCounts;
  /** Of those that would pass, how many were cautions, the others having failed. */
  passWereCautions: number;
  notJudged: number;
}

export interface DryRunOutcomeView {
  sums: DryRunSums;
  worlds: WorldKey[];
  rules: { ruleId: string; title: string; turns: Turned[] }[];
  classes: (TurnedCounts & { key: string; label: string })[];
  setups: (TurnedCounts & { id: string; title: string; slug: string })[];
}

/** What a finished dry run found in one world; undefined where there is none. */
export async function readDryRunOutcome(
  registry: Registry,
  actor: Actor | undefined,
  { draftId, world: wanted }: { draftId: string; world: string | undefined },
): Promise<DryRunOutcomeView | undefined> {
  authorise(actor, 'manageProtocol');
  const dryRun = await dryRunOf(registry.db, draftId);
  if (dryRun === null || dryRun.finishedAt === null) return undefined;
  const turned = await turnedByWorld(registry.db, draftId);
  const worlds = [...new Set(turned.map(({ world }) => worldKey(world)))].sort(recordFirst);
  const world = worlds.find((each) => each === wanted) ?? worlds[0] ?? RECORD;
  const [rules, classes, setups] = await Promise.all([
    turnedByRule(registry.db, draftId, world),
    turnedByClass(registry.db, draftId, world),
    turnedBySetup(registry.db, draftId, world, MOST_SETUPS),
  ]);
  return {
    worlds,
    sums: sumsOf(
      world,
      turned.filter((each) => each.world === world),
    ),
    rules: [...grouped(rules, ({ ruleId }) => ruleId)].map(([ruleId, turns]) => ({
      ruleId,
      title: wordsOfRule(ruleId).title,
      turns,
    })),
    classes: [...grouped(classes, ({ cruiseClassKey }) => cruiseClassKey)]
      .map(([key, turns]) => ({ key, label: cruiseClassByKey(key)?.label ?? key, ...countsOf(turns) }))
      .sort((a, b) => speedOf(a.key) - speedOf(b.key)),
    setups: setups.map(({ setupId, title, model, slug, fails, cautions, passes }) => ({
      id: setupId,
      title: `${title}, ${modelWords(model)}`,
      slug,
      fail: fails,
      caution: cautions,
      pass: passes,
    })),
  };
}

const speedOf = (key: string) => cruiseClassByKey(key)?.speedMps ?? 0;

const recordFirst = (a: WorldKey, b: WorldKey) =>
  Number(b === RECORD) - Number(a === RECORD) || (a < b ? -1 : 1);

function sumsOf(world: WorldKey, all: readonly Turned[]): DryRunSums {
  const total = (rows: readonly Turned[]) => rows.reduce((sum, { runs }) => sum + runs, 0);
  const turned = all.filter(({ before, after }) => before !== after);
  return {
    world,
    runs: total(all),
    turned: countsOf(turned),
    passWereCautions: total(turned.filter((each) => each.after === 'pass' && each.before === 'caution')),
    notJudged: total(all.filter(({ after }) => after === null)),
  };
}

function countsOf(turns: readonly Turned[]): TurnedCounts {
  const of = (outcome: KeptOutcome) =>
    turns.filter(({ after }) => after === outcome).reduce((sum, { runs }) => sum + runs, 0);
  return { fail: of('fail'), caution: of('caution'), pass: of('pass') };
}

function grouped<Row>(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) groups.set(keyOf(row), [...(groups.get(keyOf(row)) ?? []), row]);
  return groups;
}

export interface TurnedRun {
  number: number;
  before: KeptOutcome | null;
  after: KeptOutcome | null;
  classLabel: string;
  setup: string;
  localDate: string;
  changes: {
    ruleId: string;
    title: string;
    before: KeptOutcome | null;
    after: KeptOutcome | null;
    sentence: string;
    said: Said | undefined;
  }[];
}

export interface TurnedQuery {
  draftId: string;
  world: WorldKey;
  rule?: string | undefined;
  to?: string | undefined;
  classKey?: string | undefined;
  setupId?: string | undefined;
  from?: string | undefined;
}

/** The runs of a finished dry run that turn, by rule, class or setup, with what the rules say. */
export async function readTurnedRuns(
  registry: Registry,
  actor: Actor | undefined,
  { draftId, world, rule, to, classKey, setupId, from }: TurnedQuery,
): Promise<Page<TurnedRun>> {
  authorise(actor, 'manageProtocol');
  const filter = { draftId, world, ruleId: rule, after: to, cruiseClassKey: classKey, setupId };
  const page = await readPage(from, {
    size: PAGE_SIZE,
    key: z.tuple([keyPart.integer]).transform(([last]) => last),
    read: (place, take) => listTurned(registry.db, filter, place, take),
    keyOf: ({ number }) => [number],
  });
  return {
    ...page,
    rows: page.rows.map(({ cruiseClassKey, setup, localDate, changes, ...row }) => ({
      ...row,
      classLabel: cruiseClassByKey(cruiseClassKey)?.label ?? cruiseClassKey,
      setup: setup ?? '',
      localDate: dateText(localDate),
      changes: changes.map((change) => ({ ...change, title: wordsOfRule(change.ruleId).title })),
    })),
  };
}
