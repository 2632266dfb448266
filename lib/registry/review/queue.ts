import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { countOutcomes } from '@/lib/protocol/evaluate';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, type WorldKey, worldKey } from '@/lib/run/world';
import { reviewQueue } from '@/lib/store/reviews';
import { runFilterChoices } from '@/lib/store/runPages';
import type { Registry } from '../registry';
import type { Person } from '../runs/runTrail';

const PAGE_SIZE = 50;
const HOUR_MS = 3_600_000;

export interface QueueQuery {
  page: number;
  classKey?: string | undefined;
  model?: string | undefined;
  loop?: string | undefined;
  claim?: string | undefined;
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
  /** Nobody reviews a run of their own. */
  isReviewable: boolean;
}

export interface QueueView {
  page: number;
  pages: number;
  total: number;
  rows: QueueRow[];
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
  const rows = await reviewQueue(registry.db, {
    cruiseClassKey: query.classKey,
    modelId: choices.models.find(({ slug }) => slug === query.model)?.id,
    loopId: choices.loops.find(({ slug }) => slug === query.loop)?.id,
    claim: query.claim === 'free' || query.claim === 'mine' ? query.claim : undefined,
    reviewerId: actor.accountId,
    onlyWorld: onlyWorldOf(actor),
  });
  const page = Number.isInteger(query.page) && query.page >= 1 ? query.page : 1;
  const now = registry.now().getTime();
  return {
    page,
    pages: Math.max(1, Math.ceil(rows.length / PAGE_SIZE)),
    total: rows.length,
    rows: rows.slice((page - 1) * PAGE_SIZE, page * PAGE_SIZE).map((row) => queueRow(row, actor, now)),
    choices: {
      classes: choices.classes.map(({ key, label }) => ({ value: key, label })),
      models: choices.models.map((model) => ({ value: model.slug, label: modelWords(model) })),
      loops: choices.loops.map(({ slug, name }) => ({ value: slug, label: name })),
    },
  };
}

function queueRow(row: Awaited<ReturnType<typeof reviewQueue>>[number], actor: Actor, now: number): QueueRow {
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
    isReviewable: may(actor, 'reviewRun', row.tester.id, worldKey(row.world)),
  };
}
