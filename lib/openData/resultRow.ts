import type { RunPart } from '@/lib/reduction/runParts';
import type { ReadReduction } from '@/lib/reduction/stored';
import type { Row } from './column';

/** The row of `results`: from what the registry kept, and from what a verifier computed anew. */
export function resultRow(
  run: number,
  { energy, distance, speed, normalisation }: ReadReduction,
  parts: readonly RunPart[] | null,
): Row {
  const common = {
    run,
    method_version: normalisation.methodVersion,
    measured_wh_per_km: normalisation.measuredWhPerKm,
    u_measured_wh_per_km: normalisation.uMeasuredWhPerKm,
    energy_wh: energy.energyWh,
    u_energy_wh: energy.uWh,
    distance_m: distance?.distanceM ?? null,
    u_distance_m: distance?.uM ?? null,
    cruise_speed_mps: speed?.cruiseSpeedMps ?? null,
    u_cruise_speed_mps: speed?.uMps ?? null,
    shared_parts: parts,
  };
  if (normalisation.outcome === 'outsideReach')
    return {
      ...common,
      is_normalised: false,
      outside_reach: normalisation.reach.reasons.map(({ code }) => code),
    };
  const { budget, correlations, effectiveDof, interval95, measuredWhPerKm, normalisedWhPerKm } =
    normalisation;
  return {
    ...common,
    is_normalised: true,
    normalised_wh_per_km: normalisedWhPerKm,
    u_wh_per_km: normalisation.uWhPerKm,
    u_run_relative: normalisation.uByScope.run / normalisedWhPerKm,
    effective_dof: effectiveDof,
    low_wh_per_km: interval95[0],
    high_wh_per_km: interval95[1],
    adjustment_relative: normalisedWhPerKm / measuredWhPerKm - 1,
    scale: normalisation.scale,
    steps: normalisation.steps,
    // the label holds the words of who stated a value
    budget: budget.map(({ label: _label, ...entry }) => entry),
    correlations: correlations ?? null,
    outside_reach: [],
  };
}
