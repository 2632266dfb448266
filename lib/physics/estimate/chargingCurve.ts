import { assumedCurve, type ChargingCurve, statedCurve, type TaperPoint } from './taper';

/** How a model charges, as somebody stated it: a whole curve, or its greatest power alone. */
interface StatedCharging {
  readonly points: readonly TaperPoint[];
  readonly peakPowerW: number | null;
}

/** Where the curve of a trip comes from; all but the first have the assumed shape. */
export type CurveBasis = 'stated' | 'statedPeak' | 'assumed';

/** The charging curve of a trip: as stated, else the assumed one, which the page names as such. */
export function chargingCurve(
  stated: StatedCharging | null,
  capacityWh: number,
): { readonly curve: ChargingCurve; readonly basis: CurveBasis } {
  if (stated !== null && stated.points.length > 1) {
    return { curve: statedCurve(stated.points), basis: 'stated' };
  }
  const peakPowerW = stated?.peakPowerW ?? undefined;
  return {
    curve: assumedCurve(capacityWh, peakPowerW),
    basis: peakPowerW === undefined ? 'assumed' : 'statedPeak',
  };
}
