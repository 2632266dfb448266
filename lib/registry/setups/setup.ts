import { modelWords } from '@/lib/run/modelWords';
import { differingFactors, type LevelWords } from '@/lib/run/setupLevels';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { carOnLoop } from '@/lib/stats/modelRuns';
import { type Screening, screenSetup } from '@/lib/stats/screening';
import { type CarDeviation, setupShrinkage } from '@/lib/stats/setupShrinkage';
import { modelResults } from '@/lib/store/countedRuns';
import { currentFit, estimatesOfSetup } from '@/lib/store/fits';
import { rankedByClass } from '@/lib/store/publicPages';
import { setupBySlug } from '@/lib/store/vehicles';
import { shownLabel } from '../counted/countedLabel';
import type { SetupEstimate } from '../models/model';
import { type ModelSetup, readModelSetups } from '../models/modelSetups';
import { activeProtocol } from '../protocol/activeProtocol';
import { readFitSummary } from '../rankings/fitSummary';
import type { Registry } from '../registry';
import { type PublicRun, readPublicRuns } from '../runs/publicRuns';

export interface ClassEstimate extends SetupEstimate {
  classKey: string;
  classLabel: string;
  missing: { what: string; have: number; need: number }[];
  rankLower: number | null;
  rankUpper: number | null;
  /** Setups that the class ranks. */
  rankedOf: number;
  /** Whether the class's fit did. */
  converged: boolean;
}

/** The runs of one car on one loop on one day. */
export interface SetupSession {
  sessionId: string;
  carId: string;
  car: string;
  /** Car on its loop, as the spread below names it. */
  carKey: string;
  loopName: string;
  date: string;
  runs: PublicRun[];
}

/** How the chosen class's cars, days and runs lie about the setup's estimate. */
export interface SetupSpread {
  /** Empty where the published fit has no spread to weigh deviations against. */
  cars: CarDeviation[];
  screening: Screening;
}

export interface SetupView {
  slug: string;
  title: string;
  world: WorldKey;
  model: string;
  modelSlug: string;
  levels: LevelWords[];
  baseline: ModelSetup | undefined;
  isBaseline: boolean;
  /** Factors on which it differs from the baseline. */
  differsIn: string[];
  siblings: ModelSetup[];
  estimates: ClassEstimate[];
  /** The class whose runs are drawn. */
  chosen: ClassEstimate | undefined;
  sessions: SetupSession[];
  spread: SetupSpread | undefined;
  /** Approved in the chosen class, but outside the method's reach. */
  notNormalised: number;
  runs: PublicRun[];
}

/** A setup: its levels, its estimate in every class, and the runs behind the one chosen. */
export async function readSetup(
  registry: Registry,
  slug: string,
  wantedClass?: string,
): Promise<SetupView | undefined> {
  const setup = await setupBySlug(registry.db, slug);
  if (setup === null) return undefined;
  const [found, stored, runs, ranked] = await Promise.all([
    readModelSetups(registry, setup.model.slug),
    estimatesOfSetup(registry.db, setup.id),
    readPublicRuns(registry, { setupIds: [setup.id], world: worldKey(setup.world) }),
    rankedByClass(registry.db, worldKey(setup.world)),
  ]);
  const own = found?.setups.find((candidate) => candidate.setupId === setup.id);
  const baseline = found?.baseline;
  const estimates = stored
    .filter(({ fit }) => fit.group.world === setup.world)
    .map(({ fit, details: _details, missing, ...estimate }) => ({
      ...estimate,
      missing: missing as unknown as ClassEstimate['missing'],
      classKey: fit.group.cruiseClass.key,
      classLabel: fit.group.cruiseClass.label,
      rankedOf: ranked.get(fit.group.cruiseClass.key) ?? 0,
      converged: fit.converged,
      speedMps: fit.group.cruiseClass.speedMps,
    }))
    .sort((a, b) => a.speedMps - b.speedMps);
  const most = estimates.reduce<(typeof estimates)[number] | undefined>(
    (a, b) => (a && a.runs >= b.runs ? a : b),
    undefined,
  );
  const chosen = estimates.find(({ classKey }) => classKey === wantedClass) ?? most;
  const inClass = runs.filter((run) => run.classKey === chosen?.classKey);
  return {
    slug: setup.slug,
    title: setup.title,
    world: worldKey(setup.world),
    model: modelWords(setup.model),
    modelSlug: setup.model.slug,
    levels: own?.levels ?? [],
    baseline,
    isBaseline: baseline?.setupId === setup.id,
    differsIn: own && baseline ? differingFactors(baseline.levels, own.levels) : [],
    siblings: (found?.setups ?? []).filter((sibling) => sibling.setupId !== setup.id && sibling.runs > 0),
    estimates,
    chosen,
    sessions: sessionsOf(inClass),
    spread: chosen && (await spreadOf(registry, setup, chosen)),
    notNormalised: inClass.filter((run) => run.normalisedWhPerKm === null).length,
    runs,
  };
}

async function spreadOf(
  registry: Registry,
  setup: { id: string; world: string; model: { id: string } },
  chosen: ClassEstimate,
): Promise<SetupSpread> {
  const group = { cruiseClassKey: chosen.classKey, world: worldKey(setup.world) };
  const [fit, protocol] = await Promise.all([currentFit(registry.db, group), activeProtocol(registry)]);
  // under the version of the fit, which is the one in effect but for the time that a new one takes to be computed
  const methodVersion = fit?.methodVersion ?? (await shownLabel(registry.db, group.world));
  const runs = await modelResults(registry.db, { ...group, modelId: setup.model.id }, methodVersion);
  const summary = fit === null ? undefined : readFitSummary(fit.summary);
  const components = summary && summary.residualDf >= 1 ? summary.components : undefined;
  return {
    cars: summary
      ? setupShrinkage(runs, { setupId: setup.id, logMean: Math.log(chosen.estimateWhPerKm) }, summary)
      : [],
    screening: screenSetup(runs, setup.id, components, protocol.parameters.screening),
  };
}

/** By car, then by day; a car is named by its tester, and numbered where a tester has several. */
function sessionsOf(runs: readonly PublicRun[]): SetupSession[] {
  const names = carNames(runs);
  const sessions = new Map<string, SetupSession>();
  for (const run of runs) {
    const known = sessions.get(run.sessionId) ?? {
      sessionId: run.sessionId,
      carId: run.carId,
      car: names.get(run.carId) ?? run.testerName,
      carKey: carOnLoop(run.carId, run.loopId),
      loopName: run.loopName,
      date: run.date,
      runs: [],
    };
    sessions.set(run.sessionId, { ...known, runs: [...known.runs, run] });
  }
  return [...sessions.values()].sort(
    (a, b) =>
      a.car.localeCompare(b.car) || a.date.localeCompare(b.date) || a.loopName.localeCompare(b.loopName),
  );
}

/** A car's own name is its tester's affair: readers get the tester and, where needed, a number. */
export function carNames(runs: readonly Pick<PublicRun, 'carId' | 'testerName'>[]): Map<string, string> {
  const byTester = new Map<string, string[]>();
  for (const { carId, testerName } of runs) {
    const cars = byTester.get(testerName) ?? [];
    if (!cars.includes(carId)) byTester.set(testerName, [...cars, carId]);
  }
  return new Map(
    [...byTester].flatMap(([tester, cars]) =>
      cars.map((carId, index) => [carId, cars.length === 1 ? tester : `${tester}, car ${index + 1}`]),
    ),
  );
}
