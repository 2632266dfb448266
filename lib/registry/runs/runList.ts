import { z } from 'zod';
import { interval95 } from '@/lib/physics/budget';
import type { Person } from '@/lib/protocol/runTrail';
import { choiceLabel } from '@/lib/run/fields/table';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { publishedText } from '@/lib/run/publishedDay';
import { PUBLIC_RUN_STATUSES, type RunStatus } from '@/lib/run/runStatus';
import { DEMO, type WorldKey, worldKey } from '@/lib/run/world';
import { countPublicRuns, publicRuns, runFilterChoices } from '@/lib/store/runLists';
import { shownLabels } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import { addressNow } from '../names/movedAddress';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;

export interface RunListQuery {
  from?: string | undefined;
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
  /** yyyy-mm-dd at the loop; yyyy-mm where its tester publishes no more. */
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

export interface RunListView extends Page<ListedRun> {
  total: number;
  hasDemo: boolean;
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
    cruiseClassKey: plain(query.classKey),
    modelSlug: await addressNow(registry, 'model', plain(query.model)),
    loopSlug: await addressNow(registry, 'loop', plain(query.loop)),
    testerSlug: plain(query.tester),
    shown: await shownLabels(registry.db),
  };
  const [page, total, choices] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.day, keyPart.integer]),
      read: (place, take) => publicRuns(registry.db, filter, place, take),
      keyOf: ({ publishedDay, number }) => [dateText(publishedDay), number],
    }),
    countPublicRuns(registry.db, filter),
    runFilterChoices(registry.db, [...PUBLIC_RUN_STATUSES]),
  ]);
  return {
    ...page,
    total,
    hasDemo: page.rows.some((row) => row.world === DEMO),
    rows: page.rows.flatMap(listedRun),
    choices: {
      classes: choices.classes.map(({ key, label }) => ({ value: key, label })),
      models: choices.models.map((model) => ({ value: model.slug, label: modelWords(model) })),
      loops: choices.loops.map(({ slug, name }) => ({ value: slug, label: name })),
      testers: choices.testers.map(({ slug, displayName }) => ({ value: slug, label: displayName })),
    },
  };
}

/** No slug or key holds a NUL, and the database could not look for one. */
function plain(text: string | undefined): string | undefined {
  return text?.replaceAll('\0', '');
}

type Row = Awaited<ReturnType<typeof publicRuns>>[number];

function listedRun(row: Row): ListedRun[] {
  const { setup, loop, cruiseClass, publishedDay } = row;
  const revision = row.revisions.find((candidate) => candidate.number === row.approvedRevision);
  if (
    revision === undefined ||
    setup === null ||
    loop === null ||
    cruiseClass === null ||
    publishedDay === null
  )
    return [];
  const { model, ...setupRef } = setup;
  return [
    {
      number: row.number,
      status: row.status,
      world: worldKey(row.world),
      localDate: publishedText(publishedDay, row.monthOnly),
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
