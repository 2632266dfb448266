import { interval95 } from '@/lib/physics/budget';
import { choiceLabel } from '@/lib/run/fields/table';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { PUBLIC_RUN_STATUSES, type RunStatus } from '@/lib/run/runStatus';
import { DEMO, type WorldKey, worldKey } from '@/lib/run/world';
import { publicRuns, runFilterChoices } from '@/lib/store/runPages';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';
import type { Person } from './runTrail';

const PAGE_SIZE = 50;

export interface RunListQuery {
  page: number;
  classKey?: string | undefined;
  model?: string | undefined;
  loop?: string | undefined;
  tester?: string | undefined;
  state?: string | undefined;
}

export interface ListedRun {
  number: number;
  status: RunStatus;
  world: WorldKey;
  localDate: string;
  tester: Person;
  model: string;
  setup: { slug: string; title: string };
  loop: { slug: string; name: string };
  classLabel: string;
  measuredWhPerKm: number | null;
  normalised: { whPerKm: number; uWhPerKm: number; interval95: readonly [number, number] } | null;
  conditions: { airTemperatureC: number; windSpeedMps: number | null; words: string } | null;
}

export interface RunListView {
  page: number;
  pages: number;
  total: number;
  hasDemo: boolean;
  runs: ListedRun[];
  choices: {
    classes: { value: string; label: string }[];
    models: { value: string; label: string }[];
    loops: { value: string; label: string }[];
    testers: { value: string; label: string }[];
  };
}

/** Public runs, latest session first. */
export async function readRunList(registry: Registry, query: RunListQuery): Promise<RunListView> {
  const wanted = PUBLIC_RUN_STATUSES.filter((status) => status === query.state);
  const statuses = wanted.length > 0 ? wanted : [...PUBLIC_RUN_STATUSES];
  const filter = {
    statuses,
    cruiseClassKey: query.classKey,
    modelSlug: query.model,
    loopSlug: query.loop,
    testerSlug: query.tester,
    shown: await shownLabels(registry.db),
  };
  const page = Number.isInteger(query.page) && query.page >= 1 ? query.page : 1;
  const [{ rows, total }, choices] = await Promise.all([
    publicRuns(registry.db, filter, page, PAGE_SIZE),
    runFilterChoices(registry.db, [...PUBLIC_RUN_STATUSES]),
  ]);
  return {
    page,
    pages: Math.max(1, Math.ceil(total / PAGE_SIZE)),
    total,
    hasDemo: rows.some((row) => row.world === DEMO),
    runs: rows.flatMap(listedRun),
    choices: {
      classes: choices.classes.map(({ key, label }) => ({ value: key, label })),
      models: choices.models.map((model) => ({ value: model.slug, label: modelWords(model) })),
      loops: choices.loops.map(({ slug, name }) => ({ value: slug, label: name })),
      testers: choices.testers.map(({ slug, displayName }) => ({ value: slug, label: displayName })),
    },
  };
}

type Row = Awaited<ReturnType<typeof publicRuns>>['rows'][number];

function listedRun(row: Row): ListedRun[] {
  const { setup, loop, cruiseClass, session } = row;
  const revision = row.revisions.find((candidate) => candidate.number === row.approvedRevision);
  if (revision === undefined || setup === null || loop === null || cruiseClass === null || session === null)
    return [];
  const { model, ...setupRef } = setup;
  return [
    {
      number: row.number,
      status: row.status,
      world: worldKey(row.world),
      localDate: dateText(session.localDate),
      tester: row.tester,
      model: modelWords(model),
      setup: setupRef,
      loop,
      classLabel: cruiseClass.label,
      ...numbersOf(row.status === 'approved' ? countedNumbers(row) : revision.normalisations[0]),
      conditions: revision.conditions && {
        airTemperatureC: revision.conditions.airTemperatureC,
        windSpeedMps: revision.conditions.windSpeedMps,
        words: weatherWords(revision.conditions),
      },
    },
  ];
}

interface Numbers {
  measuredWhPerKm: number | null;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  effectiveDof: number | null;
}

function countedNumbers({ countedRuns: [counted] }: Row): Numbers | undefined {
  return counted && { ...counted, normalisedWhPerKm: counted.z === null ? null : Math.exp(counted.z) };
}

function numbersOf(result: Numbers | undefined): Pick<ListedRun, 'measuredWhPerKm' | 'normalised'> {
  if (result === undefined) return { measuredWhPerKm: null, normalised: null };
  const { measuredWhPerKm, normalisedWhPerKm: whPerKm, uWhPerKm, effectiveDof } = result;
  if (whPerKm === null || uWhPerKm === null) return { measuredWhPerKm, normalised: null };
  return {
    measuredWhPerKm,
    normalised: {
      whPerKm,
      uWhPerKm,
      // No degrees of freedom stored: infinitely many.
      interval95: interval95(whPerKm, uWhPerKm, effectiveDof ?? Number.POSITIVE_INFINITY),
    },
  };
}

function weatherWords({ road, precipitation }: { road: string; precipitation: string }): string {
  const words = [choiceLabel('road', road)];
  if (precipitation !== 'none') words.push(choiceLabel('precipitation', precipitation));
  return words.join(', ').toLowerCase();
}
