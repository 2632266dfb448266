import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { countOutcomes } from '@/lib/protocol/evaluate';
import type { Person } from '@/lib/protocol/runTrail';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, type WorldKey, worldKey } from '@/lib/run/world';
import { openInterests } from '@/lib/store/interests';
import { countQueue, reviewQueue } from '@/lib/store/reviews';
import { runFilterChoices } from '@/lib/store/runLists';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;
const CLAIMS = ['free', 'mine'] as const;
const WAITS = ['second', 'appeal'] as const;
const HOUR_MS = 3_600_000;

export interface QueueQuery {
  from?: string | undefined;
  classKey?: string | undefined;
  model?: string | undefined;
  loop?: string | undefined;
  claim?: string | undefined;
  waits?: string | undefined;
}

export interface QueueRow {
  number: number;
  world: WorldKey;
  submittedAt: string;
  ageHours: number;
  localDate: string;
  revision: number;
  tester: Person;
  model: string;
  setup: string;
  loop: string;
  classLabel: string;
  fails: number;
  cautions: number;
  claim: { by: string; isMine: boolean } | null;
  awaitsSecond: boolean;
  /** A rejection was appealed against: another reviewer decides. */
  isAppealed: boolean;
  /** Nobody reviews a run of their own or of a study that they drive in, one they decided on before, or of an interest. */
  isReviewable: boolean;
  /** Why not. */
  keptOut: 'own' | 'ownStudy' | 'decidedBefore' | 'interest' | undefined;
}

export interface QueueView extends Page<QueueRow> {
  total: number;
  choices: {
    classes: { value: string; label: string }[];
    models: { value: string; label: string }[];
    loops: { value: string; label: string }[];
  };
}

/** Runs that wait for a decision, oldest first; the reviewer's own are shown, but not for them to decide. */
export async function readQueue(
  registry: Registry,
  actor: Actor | undefined,
  query: QueueQuery,
): Promise<QueueView> {
  authorise(actor, 'readQueue');
  const choices = await runFilterChoices(registry.db, ['submitted'], onlyWorldOf(actor));
  const filter = {
    cruiseClassKey: query.classKey?.replaceAll('\0', ''),
    modelId: choices.models.find(({ slug }) => slug === query.model)?.id,
    loopId: choices.loops.find(({ slug }) => slug === query.loop)?.id,
    claim: CLAIMS.find((claim) => claim === query.claim),
    waits: WAITS.find((waits) => waits === query.waits),
    reviewerId: actor.accountId,
    onlyWorld: onlyWorldOf(actor),
  };
  const [page, total, interests] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.instant, keyPart.integer]),
      read: (place, take) => reviewQueue(registry.db, filter, place, take),
      keyOf: ({ submittedAt, number }) => [submittedAt?.toISOString() ?? '', number],
    }),
    countQueue(registry.db, filter),
    openInterests(registry.db, actor.accountId),
  ]);
  const now = registry.now().getTime();
  const keepsOut = new Set(interests.map(({ kind, subjectId }) => `${kind} ${subjectId}`));
  return {
    ...page,
    total,
    rows: page.rows.map((row) => queueRow(row, actor, keepsOut, now)),
    choices: {
      classes: choices.classes.map(({ key, label }) => ({ value: key, label })),
      models: choices.models.map((model) => ({ value: model.slug, label: modelWords(model) })),
      loops: choices.loops.map(({ slug, name }) => ({ value: slug, label: name })),
    },
  };
}

type KeptRow = Awaited<ReturnType<typeof reviewQueue>>[number];

function keptOutOf(row: KeptRow, actor: Actor, keepsOut: ReadonlySet<string>): QueueRow['keptOut'] {
  if (!may(actor, 'reviewRun', row.tester.id, worldKey(row.world))) return 'own';
  if ((row.studyRun?.study.testers.length ?? 0) > 0) return 'ownStudy';
  if ((row.revisions[0]?.decisions.length ?? 0) > 0) return 'decidedBefore';
  const subjects = [
    `account ${row.tester.id}`,
    `model ${row.car?.model.id}`,
    `maker ${row.car?.model.makerId}`,
  ];
  return subjects.some((subject) => keepsOut.has(subject)) ? 'interest' : undefined;
}

function queueRow(row: KeptRow, actor: Actor, keepsOut: ReadonlySet<string>, now: number): QueueRow {
  const keptOut = keptOutOf(row, actor, keepsOut);
  const revision = row.revisions[0];
  const counts = countOutcomes(revision?.findings ?? []);
  const claim = row.claims[0];
  return {
    number: row.number,
    world: worldKey(row.world),
    submittedAt: row.submittedAt?.toISOString() ?? '',
    ageHours: row.submittedAt === null ? 0 : Math.max(0, (now - row.submittedAt.getTime()) / HOUR_MS),
    localDate: dateText(revision?.localDate),
    revision: revision?.number ?? 0,
    tester: row.tester,
    model: row.car === null ? '' : modelWords(row.car.model),
    setup: row.setup?.title ?? '',
    loop: row.loop?.name ?? '',
    classLabel: row.cruiseClass?.label ?? '',
    fails: counts.fail,
    cautions: counts.caution,
    claim: claim ? { by: claim.reviewer.displayName, isMine: claim.reviewerId === actor.accountId } : null,
    awaitsSecond: row.firstApprovalById !== null,
    isAppealed: row.round > 1,
    isReviewable: keptOut === undefined,
    keptOut,
  };
}
