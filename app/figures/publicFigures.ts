import { compareQuery } from '@/app/(public)/compare/compareQuery';
import { differencesFigure } from '@/app/(public)/compare/differencesFigure';
import { pairsFigure } from '@/app/(public)/compare/pairsFigure';
import { sidesFigure } from '@/app/(public)/compare/sidesFigure';
import { estimateQuery } from '@/app/(public)/estimate/estimateQuery';
import { type EstimateOfFigure, estimateOfFigure } from '@/app/(public)/estimate/estimateSource';
import { rangeFigure } from '@/app/(public)/estimate/rangeFigure';
import { speedsFigure } from '@/app/(public)/estimate/speedsFigure';
import { stepsFigure } from '@/app/(public)/estimate/stepsFigure';
import { effectFigure, factorsFigure, speedFigure } from '@/app/(public)/factors/effectFigure';
import { answerFigure } from '@/app/(public)/home/answerFigure';
import {
  directionsFigure,
  elevationFigure,
  routeFigure,
  windFigure,
} from '@/app/(public)/loops/[slug]/loopFigures';
import { changesFigure } from '@/app/(public)/models/[slug]/changesFigure';
import { chargingFigure } from '@/app/(public)/models/[slug]/chargingFigure';
import { roadLoadFigure } from '@/app/(public)/models/[slug]/roadLoadFigure';
import { one, rankingQuery, type SearchParams } from '@/app/(public)/rankings/query';
import { rankingFigure } from '@/app/(public)/rankings/rankingFigure';
import { densityFigure } from '@/app/(public)/setups/[slug]/densityFigure';
import { mandelFigure } from '@/app/(public)/setups/[slug]/mandelFigure';
import { runsFigure } from '@/app/(public)/setups/[slug]/runsFigure';
import { spreadFigure } from '@/app/(public)/setups/[slug]/spreadFigure';
import { publishedStudy } from '@/app/(public)/studies/[slug]/studyFigures';
import { adjustmentFigure } from '@/app/runDossier/adjustmentFigure';
import { budgetFigure } from '@/app/runDossier/budgetFigure';
import { runNumber } from '@/app/runDossier/runNumber';
import { standingFigure } from '@/app/runDossier/standingFigure';
import { traceFigure, trackFigure } from '@/app/runDossier/traceFigures';
import type { FigureDescription } from '@/app/ui/figures/description';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { readEstimate } from '@/lib/registry/estimates/readEstimate';
import { readFactor, readFactors } from '@/lib/registry/factors/factors';
import { readSpeedsOfWorld } from '@/lib/registry/factors/speeds';
import { readFirstAnswer } from '@/lib/registry/home/home';
import { readAnswer } from '@/lib/registry/home/liveAnswers';
import { type LoopView, readLoop } from '@/lib/registry/loops/loop';
import { readCharging } from '@/lib/registry/models/charging';
import { readModel } from '@/lib/registry/models/model';
import { readRankings } from '@/lib/registry/rankings/rankings';
import type { Registry } from '@/lib/registry/registry';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { type RunView, readRun } from '@/lib/registry/runs/run';
import { readSetup, type SetupView } from '@/lib/registry/setups/setup';
import { readStudy } from '@/lib/registry/studies/study';
import { readRunTrace } from '@/lib/registry/traces/runTrace';
import { RECORD } from '@/lib/run/world';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { displayAt } from '@/lib/units/displaySchema';

interface Asked {
  registry: Registry;
  /** Of which thing or class. */
  key: string;
  params: SearchParams;
  /** As the address says it, never as a cookie does: one address is one picture. */
  display: Display;
}

type FigureReader = (asked: Asked) => Promise<FigureDescription | undefined>;

/** Every figure that has an address: read as anybody may read it, described as on its page. */
const READERS: ReadonlyMap<string, FigureReader> = new Map<string, FigureReader>([
  ['answer', answer],
  ['ranking', ranking],
  [
    'differences',
    (asked) => compared(asked, ({ view, baseline }) => differencesFigure(view, baseline, asked.display)),
  ],
  ['sides', (asked) => compared(asked, ({ view, baseline }) => sidesFigure(view, baseline, asked.display))],
  ['pairs', pairs],
  ['factors', factors],
  ['factor', factor],
  ['cruise-speed', cruiseSpeed],
  [
    'changes',
    async ({ registry, key, params, display }) => {
      const view = await readModel(registry, key, { classKey: one(params, 'class') });
      return view && changesFigure(view, display);
    },
  ],
  ['road-load', roadLoad],
  ['estimate-range', (asked) => ofEstimate(asked, (of) => rangeFigure(of, asked.display))],
  ['estimate-steps', (asked) => ofEstimate(asked, (of) => stepsFigure(of, asked.display))],
  [
    'estimate-speeds',
    (asked) =>
      ofEstimate(asked, (of) => {
        const { speeds } = of.answered;
        return speeds === null ? undefined : speedsFigure(of, speeds, asked.display);
      }),
  ],
  [
    'charging',
    async ({ registry, key, display }) => {
      const view = await readCharging(registry, undefined, key);
      return view && chargingFigure(view, display);
    },
  ],
  ['study', study],
  ['route', (asked) => ofLoop(asked, routeFigure)],
  ['elevation', (asked) => ofLoop(asked, elevationFigure)],
  ['directions', (asked) => ofLoop(asked, directionsFigure)],
  ['wind', (asked) => ofLoop(asked, windFigure)],
  ['setup-runs', (asked) => ofSetup(asked, (view, chosen) => runsFigure(view, chosen, asked.display))],
  [
    'setup-density',
    (asked) =>
      ofSetup(
        asked,
        (view, chosen) => view.density && densityFigure(view, view.density, chosen, asked.display),
      ),
  ],
  [
    'setup-spread',
    (asked) =>
      ofSetup(asked, (view, chosen) =>
        view.spread !== 'due' && view.spread && view.spread.cars.length > 0
          ? spreadFigure({ view, chosen, cars: view.spread.cars, of: view.spread.of }, asked.display)
          : undefined,
      ),
  ],
  ['setup-h', (asked) => mandel('h', asked)],
  ['setup-k', (asked) => mandel('k', asked)],
  [
    'adjustment',
    (asked) =>
      ofRun(asked, async (view) => {
        const run = normalised(view);
        return run && adjustmentFigure(view, run, asked.display);
      }),
  ],
  [
    'budget',
    (asked) =>
      ofRun(asked, async (view) => {
        const run = normalised(view);
        return run && budgetFigure(view, run, asked.display);
      }),
  ],
  [
    'standing',
    (asked) =>
      ofRun(asked, async (view) =>
        view.standing !== 'due' && view.standing && view.standing.ofSetup.count > 0
          ? standingFigure(view, view.standing, asked.display)
          : undefined,
      ),
  ],
  ['trace', (asked) => ofTrace(asked, traceFigure)],
  ['track', (asked) => ofTrace(asked, trackFigure)],
]);

/** The figure of an address, or nothing where there is none that everybody may see. */
export async function readFigure(
  registry: Registry,
  kind: string,
  key: string,
  params: SearchParams,
): Promise<FigureDescription | undefined> {
  const display = displayAt(DEFAULT_PREFERENCES, (name) => one(params, name));
  return READERS.get(kind)?.({ registry, key, params, display });
}

/** One group of a ranking, or all of a class on one axis. */
async function ranking({ registry, key, params, display }: Asked) {
  const group = one(params, 'group');
  const query = { ...rankingQuery(params), classKey: key, group };
  const view = await readRankings(registry, group === undefined ? { ...query, by: 'all' } : query);
  const [first] = view?.groups ?? [];
  return view && first && view.group.cruiseClassKey === key
    ? rankingFigure(view, first, params, display)
    : undefined;
}

/** Of two setups of a class, or the first of the home page. */
async function answer({ registry, key, params, display }: Asked) {
  const { world, setupSlugs } = compareQuery(params);
  const [baselineSlug = '', setupSlug = ''] = setupSlugs;
  const found =
    key === 'first'
      ? await readFirstAnswer(registry)
      : await readAnswer(registry, world ?? RECORD, { classKey: key, baselineSlug, setupSlug });
  return found && answerFigure(found, display);
}

async function factors({ registry, key, params, display }: Asked) {
  const view = await readFactors(registry, { classKey: key, world: one(params, 'world') });
  return view?.group.cruiseClassKey === key ? factorsFigure(view, display) : undefined;
}

async function factor({ registry, key, params, display }: Asked) {
  const view = await readFactor(registry, key, {
    classKey: one(params, 'class'),
    world: one(params, 'world'),
  });
  const effect = view?.effects.find(({ levelId }) => levelId === one(params, 'level'));
  return view && effect && effectFigure(view, effect, display);
}

/** The key names both classes. */
async function cruiseSpeed({ registry, key, params, display }: Asked) {
  const view = await readSpeedsOfWorld(registry, one(params, 'world'));
  const step = view?.steps.find(({ slow, fast }) => `${slow.key}.${fast.key}` === key);
  return view && step && speedFigure(step, { world: view.world, asOf: view.computedAt }, display);
}

/** One difference of a study after each day: that of the setup that is named, or the first. */
async function study({ registry, key, params, display }: Asked) {
  const view = await readStudy(registry, undefined, key);
  const contrasts = view === undefined ? [] : (publishedStudy(view, display)?.contrasts ?? []);
  const asked = one(params, 'setup');
  return contrasts.find(({ setup }) => asked === undefined || setup.slug === asked)?.figure;
}

type Compared = NonNullable<Awaited<ReturnType<typeof comparison>>>;

async function comparison({ registry, key, params }: Asked) {
  const view = await readComparison(registry, { ...compareQuery(params), classKey: key });
  const baseline = view?.baseline;
  if (view === undefined || baseline === undefined || view.differences.length === 0) return undefined;
  return view.group.cruiseClassKey === key ? { view, baseline } : undefined;
}

async function compared(asked: Asked, figureOf: (found: Compared) => FigureDescription) {
  const found = await comparison(asked);
  return found && figureOf(found);
}

async function pairs(asked: Asked) {
  const found = await comparison(asked);
  const [difference] = found?.view.differences ?? [];
  if (found === undefined || difference === undefined || difference.pairs.total === 0) return undefined;
  return pairsFigure(found.view, found.baseline, difference, asked.display);
}

async function roadLoad({ registry, key, display }: Asked) {
  const model = await readModel(registry, key);
  if (model === undefined) return undefined;
  const { learned } = await readRoadLoad(registry, model);
  return learned === null ? undefined : roadLoadFigure(model, learned, display);
}

/** The key is the setup; the rest of what was asked stands in the query. */
async function ofEstimate(
  { registry, key, params, display }: Asked,
  figureOf: (of: EstimateOfFigure) => FigureDescription | undefined,
) {
  const asked = { ...params, setup: key };
  const of = estimateOfFigure(await readEstimate(registry, estimateQuery(asked, display)), asked);
  return of && figureOf(of);
}

async function ofLoop(
  { registry, key, display }: Asked,
  figureOf: (loop: LoopView, display: Display) => FigureDescription | undefined,
) {
  const loop = await readLoop(registry, key);
  return loop && figureOf(loop, display);
}

async function ofSetup(
  { registry, key, params }: Asked,
  figureOf: (view: SetupView, chosen: NonNullable<SetupView['chosen']>) => FigureDescription | undefined,
) {
  const view = await readSetup(registry, key, { classKey: one(params, 'class') });
  return view?.chosen && figureOf(view, view.chosen);
}

function mandel(of: 'h' | 'k', asked: Asked) {
  return ofSetup(asked, (view, chosen) => {
    const spread = view.spread === 'due' ? undefined : view.spread;
    return spread?.screening.by === 'iso5725'
      ? mandelFigure(of, spread.screening, spread.named, view, chosen, asked.display)
      : undefined;
  });
}

/** Runs are read as a visitor without an account would read them. */
async function ofRun(
  { registry, key }: Asked,
  figureOf: (view: RunView) => Promise<FigureDescription | undefined>,
) {
  const number = runNumber(key);
  const view = number === undefined ? undefined : await readRun(registry, undefined, number, {});
  return view?.isPublic ? figureOf(view) : undefined;
}

function normalised({ result }: RunView) {
  const normalisation = result?.normalisation;
  return normalisation?.outcome === 'normalised' ? normalisation : undefined;
}

function ofTrace(asked: Asked, figureOf: typeof traceFigure) {
  return ofRun(asked, async (view) => {
    const trace = await readRunTrace(asked.registry, undefined, view);
    return trace === undefined || trace === 'unreadable' ? undefined : figureOf(view, trace, asked.display);
  });
}
