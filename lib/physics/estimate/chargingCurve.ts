import { assumedCurve, type ChargingCurve, statedCurve, type TaperPoint } from './taper';

/** How a model charges, as somebody stated it: a whole curve, or its greatest power alone. */
interface StatedCharging {
  readonly points: readonly TaperPoint[];
  readonly peakPowerW: number | null;
}

/** Where the curve of a trip comes from; all but the first have the assumed shape. */
export type CurveBasis = 'stated' | 'statedPeak' | 'assumed';

/** As stated, else the assumed one, which a page names as such; null where there is nothing to assume it from. */
export function chargingCurve(
  stated: StatedCharging | null,
  capacityWh: number | null,
): { readonly curve: ChargingCurve; readonly basis: CurveBasis } | null {
  if (stated !== null && stated.points.length > 0) {
    return { curve: statedCurve(stated.points), basis: 'stated' };
  }
  if (capacityWh === null) return null;
  const peakPowerW = stated?.peakPowerW ?? undefined;
  return {
    curve: assumedCurve(capacityWh, peakPowerW),
    basis: peakPowerW === undefined ? 'assumed' : 'statedPeak',
  };
}
