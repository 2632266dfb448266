import { modelInText } from '@/lib/run/modelWords';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { countStudies, listStudies, worldsOfStudies } from '@/lib/store/studies';
import { readPlan } from '@/lib/study/stored';
import { STUDY_STATES, type StudyState } from '@/lib/study/studyState';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

export interface StudyRow {
  slug: string;
  question: string;
  state: StudyState;
  model: string;
  classLabel: string;
  by: { displayName: string; slug: string };
  at: Date;
  runs: number;
  /** Of the plan that holds; null where it can no longer be read. */
  planned: { runs: number; days: number } | null;
}

export interface StudiesView extends Page<StudyRow> {
  world: WorldKey;
  worlds: WorldKey[];
  state: StudyState;
  counts: { state: StudyState; count: number }[];
}

const PAGE_SIZE = 30;

/** Studies of a world in one state, the newest first: that asked for, or the first of those that have any. */
export async function readStudies(
  registry: Registry,
  query: { state?: string | undefined; world?: string | undefined; from?: string | undefined },
): Promise<StudiesView> {
  const worlds = (await worldsOfStudies(registry.db)).map(worldKey);
  const world =
    worlds.find((one) => one === query.world) ??
    (worlds.includes(RECORD) ? RECORD : (worlds[0] ?? registry.world));
  const found = await countStudies(registry.db, world);
  const counts = STUDY_STATES.map((state) => ({ state, count: found.get(state) ?? 0 }));
  const order: StudyState[] = ['running', 'complete', 'draft', 'abandoned'];
  const state =
    STUDY_STATES.find((one) => one === query.state) ??
    order.find((one) => (found.get(one) ?? 0) > 0) ??
    'running';
  const page = await readPage(query.from, {
    size: PAGE_SIZE,
    key: keyPart.uuid,
    read: (place, take) => listStudies(registry.db, { state, world }, place, take),
    keyOf: ({ id }) => id,
  });
  return {
    ...page,
    rows: page.rows.map((row) => {
      const plan = readPlan(row.versions[0]?.plan);
      return {
        slug: row.slug,
        question: row.question,
        state: row.state,
        model: modelInText(row.model),
        classLabel: row.cruiseClass.label,
        by: row.owner,
        at: row.endedAt ?? row.beganAt ?? row.createdAt,
        runs: row._count.runs,
        planned: plan
          ? { days: plan.days.length, runs: plan.days.reduce((sum, day) => sum + day.length, 0) }
          : null,
      };
    }),
    world,
    worlds,
    state,
    counts,
  };
}
