/**
 * Where M2, the distance-weighted mean squared speed, comes from: the run's own recording; the loop's ratio M2/v² from
 * recordings of it; the loop's off-cruise share (its speed solved from the duration); an assumed off-cruise speed (its
 * share solved from the duration); or steady cruise when the duration leaves nothing else.
 */
export type ProfileSource = 'trace' | 'loop' | 'share' | 'ratio' | 'steady';

/**
 * Off-cruise speed in m/s such that distance and duration agree: v_off = q/(t/D − (1−q)/v), never above cruise. The
 * expression has a pole where the duration leaves no time for the off-cruise part; beyond it no speed solves it.
 */
export function offCruiseSpeedMps(
  cruiseMps: number,
  share: number,
  distanceM: number,
  durationS: number,
): number {
  const left = durationS / distanceM - (1 - share) / cruiseMps;
  return left > 0 ? Math.min(cruiseMps, share / left) : cruiseMps;
}

/** M2 in m²/s² of a run that cruises at v but for a share of the distance at the one speed that fits its duration. */
export function meanSquareFromShare(
  cruiseMps: number,
  share: number,
  distanceM: number,
  durationS: number,
): number {
  const offCruise = offCruiseSpeedMps(cruiseMps, share, distanceM, durationS);
  return (1 - share) * cruiseMps * cruiseMps + share * offCruise * offCruise;
}

/** The same with the off-cruise speed assumed as a ratio of cruise: q = (t·v/D − 1)/(1/ratio − 1), from 0 to 1. */
export function meanSquareFromRatio(
  cruiseMps: number,
  ratio: number,
  distanceM: number,
  durationS: number,
): number {
  const solved = ((durationS * cruiseMps) / distanceM - 1) / (1 / ratio - 1);
  const share = Math.min(1, Math.max(0, solved));
  return cruiseMps * cruiseMps * (1 - share * (1 - ratio * ratio));
}
