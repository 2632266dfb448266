import type { SideBySide } from '@/lib/answers/answer';
import { modelWords } from '@/lib/run/modelWords';
import { type FactorChange, levelsByFactor, singleFactorChanges } from '@/lib/run/setupLevels';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { type ChangeEffect, changeEffects } from '@/lib/stats/changeEffects';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { estimatesOfModel, type ShownEstimate } from '@/lib/store/fits';
import { pairedCounts, setupsDriven, sharedSessionCells } from '@/lib/store/pairedRuns';
import { contrastsAmong } from '@/lib/store/publicPages';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { type PublicRunPage, readPublicRunPage } from '../runs/publicRuns';
import { type ModelFactor, type ModelSetup, readModelSetups } from './modelSetups';

export interface ModelView {
  slug: string;
  name: string;
  world: WorldKey;
  /** Why it is in no list; null where it is. */
  hiddenReason: string | null;
  dataSheet: {
    bodyClass: string;
    kerbMassKg: number;
    usableCapacityWh: number | null;
    dragAreaM2: number | null;
    dragAreaSource: string | null;
    hasHeatPump: boolean;
  };
  classes: { key: string; label: string; runs: number }[];
  classKey: string | undefined;
  classLabel: string;
  /** When the class was fitted; nothing where there is no fit. */
  fittedAt: Date | undefined;
  /** Whether the fit of the class did; true where there is none. */
  converged: boolean;
  /** What speaks against its intervals; null where that is not known. */
  faults: Fault[] | null;
  factors: ModelFactor[];
  setups: (ModelSetup & { estimate: ShownEstimate | undefined })[];
  baseline: ModelSetup | undefined;
  changes: (FactorChange<ModelSetup> & ChangeEffect & { sideBySide: SideBySide | undefined })[];
  /** Approved runs in all classes, the latest first. */
  runs: PublicRunPage;
}

/** A model: what its data sheet says, and what its setups did in one class. */
export async function readModel(
  registry: Registry,
  slug: string,
  { classKey: wantedClass, from }: { classKey?: string | undefined; from?: string | undefined } = {},
): Promise<ModelView | undefined> {
  const found = await readModelSetups(registry, slug);
  if (found === undefined) return undefined;
  const { model, setups, factors, baseline } = found;
  const [estimates, runs, protocol] = await Promise.all([
    estimatesOfModel(registry.db, model.id, worldKey(model.world)),
    readPublicRunPage(registry, { modelId: model.id, world: worldKey(model.world) }, from),
    activeProtocol(registry),
  ]);
  const classes = classesOf(estimates);
  const chosen = classes.find(({ key }) => key === wantedClass) ?? largest(classes);
  const own = estimates.filter(({ fit }) => fit.group.cruiseClass.key === chosen?.key);
  const fit = own[0]?.fit;
  const summary = fit?.summary;
  const contrasts =
    fit === undefined
      ? []
      : await contrastsAmong(
          registry.db,
          fit.id,
          own.map((row) => row.setupId),
        );
  const changesFrom = async (from: ModelSetup | undefined): Promise<ModelView['changes']> => {
    if (from === undefined || summary === undefined) return [];
    const { driven, cells, sideBySide } = await readShared(
      registry,
      model,
      chosen?.key ?? '',
      from.setupId,
      summary.components.residual,
    );
    const changes = singleFactorChanges(from, setups).filter(({ setup }) => driven.has(setup.setupId));
    const effects = changeEffects(changes, {
      baselineId: from.setupId,
      levels: new Map(setups.map((setup) => [setup.setupId, levelsByFactor(setup.levels)])),
      contrasts,
      cells,
      countsOf: (setupId) => own.find((row) => row.setupId === setupId) ?? { cars: 0, testers: 0 },
      leastCars: protocol.parameters.ranking.carsAcrossModels,
      fit: summary,
    });
    return effects.map((effect) => ({ ...effect, sideBySide: sideBySide.get(effect.setup.setupId) }));
  };
  return {
    slug: model.slug,
    name: modelWords(model),
    world: worldKey(model.world),
    hiddenReason: model.hiddenReason,
    dataSheet: {
      bodyClass: model.bodyClass,
      kerbMassKg: model.kerbMassKg,
      usableCapacityWh: model.usableCapacityWh,
      dragAreaM2: model.dragAreaM2,
      dragAreaSource: model.dragAreaSource,
      hasHeatPump: model.hasHeatPump,
    },
    classes,
    classKey: chosen?.key,
    classLabel: chosen?.label ?? '',
    fittedAt: fit?.fittedAt,
    converged: summary?.converged ?? true,
    faults: fit?.faults ?? null,
    factors,
    setups: setups.map((setup) => ({
      ...setup,
      estimate: own.find((row) => row.setupId === setup.setupId),
    })),
    baseline,
    changes: await changesFrom(baseline),
    runs,
  };
}

async function readShared(
  registry: Registry,
  model: { id: string; world: string },
  cruiseClassKey: string,
  baselineId: string,
  runVariance: number,
) {
  const world = worldKey(model.world);
  const methodVersion = await shownLabel(registry.db, world);
  const of = { world, methodVersion, cruiseClassKey, modelId: model.id };
  const [driven, cells, sideBySide] = await Promise.all([
    setupsDriven(registry.db, of),
    sharedSessionCells(registry.db, of, runVariance),
    pairedCounts(registry.db, { ...of, baselineId }),
  ]);
  return { driven: new Set(driven), cells, sideBySide };
}

type EstimateOfModel = Awaited<ReturnType<typeof estimatesOfModel>>[number];

function classesOf(estimates: readonly EstimateOfModel[]): ModelView['classes'] {
  const classes = new Map<string, { key: string; label: string; ordinal: number; runs: number }>();
  for (const { runs, fit } of estimates) {
    const { cruiseClass } = fit.group;
    const known = classes.get(cruiseClass.key) ?? { ...cruiseClass, runs: 0 };
    classes.set(cruiseClass.key, { ...known, runs: known.runs + runs });
  }
  return [...classes.values()]
    .sort((a, b) => a.ordinal - b.ordinal)
    .map(({ key, label, runs }) => ({ key, label, runs }));
}

function largest(classes: ModelView['classes']): ModelView['classes'][number] | undefined {
  return classes.reduce<ModelView['classes'][number] | undefined>(
    (a, b) => (a && a.runs >= b.runs ? a : b),
    undefined,
  );
}
