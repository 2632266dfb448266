import { conditionsAsked } from '@/lib/physics/estimate/conditionsAsked';
import { batteryAsked } from '@/lib/physics/estimate/tripPlan';
import { ESTIMATE_DEFAULTS } from '@/lib/run/estimate/estimateFields';
import { parseEstimate } from '@/lib/run/estimate/parseEstimate';
import type { WorldKey } from '@/lib/run/world';
import { readChargingSheet } from '@/lib/store/chargingSheets';
import { setupToEstimate } from '@/lib/store/estimates';
import { methodInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';
import { estimatedClasses, type Ranged } from './estimatedClasses';
import { estimateOfSetup, type SetupEstimate } from './setupEstimate';

/** A setup on the trip that stands where nobody asked for another. */
export interface UsualTrip extends Pick<SetupEstimate, 'slug' | 'title' | 'rangeM' | 'trip'> {
  /** What has to be bought for it, losses while charging included; null without a plan. */
  readonly boughtWh: Ranged | null;
}

/** Setups of one page: each has its trip simulated. */
const MOST_TRIPS = 6;

/** Of the trip that all of them make. */
export const USUAL_TRIP_M = ESTIMATE_DEFAULTS.trip;

/** At one unit of money a kilowatt-hour the cost of a trip is the energy bought. */
const ONE_PER_KWH = { homePrice: '1' };
const WH = 1000;

/**
 * Range, charging and what is bought on the usual trip, at the speed of one class and reference conditions: of the first
 * few of these setups, and of those alone that the class's fit gives an interval.
 */
export async function readTrips(
  registry: Registry,
  of: { world: WorldKey; classKey: string },
  slugs: readonly string[],
): Promise<UsualTrip[]> {
  const found = await Promise.all(
    slugs.slice(0, MOST_TRIPS).map((slug) => setupToEstimate(registry.db, slug)),
  );
  const setups = found.flatMap((setup) => (setup === null || setup.world !== of.world ? [] : [setup]));
  const parsed = parseEstimate(ONE_PER_KWH);
  if (!parsed.ok || setups.length === 0) return [];
  const { asked } = parsed;
  const [method, sheets, classes] = await Promise.all([
    methodInEffect(registry.db, of.world),
    Promise.all(setups.map(({ model }) => readChargingSheet(registry.db, model.id))),
    estimatedClasses(registry, setups, of.classKey),
  ]);
  return setups.flatMap((setup, i): UsualTrip[] => {
    const [its] = classes[i]?.classes ?? [];
    if (its === undefined) return [];
    const { hasHeatPump, usableCapacityWh } = setup.model;
    const computed = estimateOfSetup(setup, its, {
      method,
      conditions: conditionsAsked(asked, its.speedMps, hasHeatPump),
      loadKg: asked.load,
      battery: batteryAsked(asked, usableCapacityWh, sheets[i] ?? null),
    });
    if (computed.refusal !== null) return [];
    const { slug, title, rangeM, trip } = computed.shown;
    const cost = trip?.cost ?? null;
    const boughtWh = cost && { value: WH * cost.value, low: WH * cost.low, high: WH * cost.high };
    return [{ slug, title, rangeM, trip, boughtWh }];
  });
}
