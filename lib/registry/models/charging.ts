import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { chargingCurve } from '@/lib/physics/estimate/chargingCurve';
import { type ChargingSpan, chargingSpan } from '@/lib/physics/estimate/chargingSpan';
import type { ChargingCurve } from '@/lib/physics/estimate/taper';
import { NotFound } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  type ChargingSheet,
  chargingSheetsOf,
  isCapacityStated,
  isModelOf,
  modelForCharging,
} from '@/lib/store/chargingSheets';
import type { Registry } from '../registry';

/** From where to where a charge on the way is asked about most. */
const SPAN = [0.1, 0.8] as const;

export interface ChargingView {
  modelId: string;
  slug: string;
  name: string;
  world: WorldKey;
  usableCapacityWh: number | null;
  /** The statement that counts; null where nobody made one. */
  sheet: ChargingSheet | null;
  /** Those before it, the newest first. */
  earlier: ChargingSheet[];
  /** As stated, else as assumed; null where there is nothing to assume it from. */
  curve: ChargingCurve | null;
  /** From 10 to 80 %; null without a curve or a capacity. */
  span: ChargingSpan | null;
  /** The day as of which this holds. */
  asOf: Date;
  /** Whether the one who asks may state it. */
  mayState: boolean;
}

/** How a model charges: what was stated of it, or what is assumed in its place. */
export async function readCharging(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<ChargingView | undefined> {
  const model = isSlug(slug) ? await modelForCharging(registry.db, slug) : null;
  if (model === null) return undefined;
  const [[sheet = null, ...earlier], isOwn] = await Promise.all([
    chargingSheetsOf(registry.db, model.id),
    actor !== undefined && isModelOf(registry.db, model, actor.accountId),
  ]);
  const world = worldKey(model.world);
  const capacityWh = model.usableCapacityWh;
  const curve = chargingCurve(sheet, capacityWh)?.curve ?? null;
  return {
    modelId: model.id,
    slug: model.slug,
    name: modelWords(model),
    world,
    usableCapacityWh: capacityWh,
    sheet,
    earlier,
    curve,
    span:
      curve === null || capacityWh === null
        ? null
        : chargingSpan(curve, { basis: 'new', capacityWh }, ...SPAN),
    asOf: sheet?.statedAt ?? model.createdAt,
    mayState: may(actor, 'stateCharging', isOwn ? actor?.accountId : undefined, world),
  };
}

export interface ChargingFormView {
  modelId: string;
  slug: string;
  name: string;
  world: WorldKey;
  usableCapacityWh: number | null;
  /** Whether a capacity may be stated: the model has none, or one that was stated in this way. */
  takesCapacity: boolean;
  /** What a new statement starts from. */
  stated: { points: ChargingSheet['points']; peakPowerW: number | null; usableCapacityWh: number | null };
}

/** What the form of a model's charging starts from, for those who may state it. */
export async function chargingFormOf(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<ChargingFormView> {
  const view = await readCharging(registry, actor, slug);
  if (view === undefined) throw new NotFound('This model does not exist.');
  const { modelId, name, world, usableCapacityWh, sheet } = view;
  authorise(actor, 'stateCharging', view.mayState ? actor?.accountId : undefined, world);
  const takesCapacity =
    usableCapacityWh === null || (await isCapacityStated(registry.db, modelId, usableCapacityWh));
  return {
    modelId,
    slug: view.slug,
    name,
    world,
    usableCapacityWh,
    takesCapacity,
    stated: {
      points: sheet?.points ?? [],
      peakPowerW: sheet?.peakPowerW ?? null,
      usableCapacityWh: takesCapacity ? usableCapacityWh : null,
    },
  };
}
