import type { OutlinePoint } from './loopShape';

export interface DrawnLeg {
  key: 'outbound' | 'return' | 'route';
  points: OutlinePoint[];
}

/** A line that ends this near its start, as a share of its length, is the whole loop. */
const CLOSED_WITHIN = 0.1;

/**
 * The stored outline cut at the turnaround, which lies at the outbound leg's share of the way. An outline that does
 * not come back is drawn as one line.
 *
 * @param outboundShare the outbound leg's share of the loop's length, 0..1
 */
export function outlineLegs(outline: readonly OutlinePoint[], outboundShare: number): DrawnLeg[] {
  const [first] = outline;
  const last = outline[outline.length - 1];
  if (first === undefined || last === undefined || outline.length < 2) return [];
  const along = distancesAlong(outline);
  const total = along[along.length - 1] ?? 0;
  const gap = Math.hypot(last.x - first.x, last.y - first.y);
  if (total === 0 || gap > CLOSED_WITHIN * total) return [{ key: 'route', points: [...outline] }];
  const wanted = outboundShare * total;
  const cut = along.reduce(
    (best, distance, index) =>
      Math.abs(distance - wanted) < Math.abs((along[best] ?? 0) - wanted) ? index : best,
    0,
  );
  if (cut === 0 || cut === outline.length - 1) return [{ key: 'route', points: [...outline] }];
  return [
    { key: 'outbound', points: outline.slice(0, cut + 1) },
    { key: 'return', points: outline.slice(cut) },
  ];
}

function distancesAlong(outline: readonly OutlinePoint[]): number[] {
  let sum = 0;
  return outline.map((point, index) => {
    const before = outline[index - 1];
    if (before !== undefined) sum += Math.hypot(point.x - before.x, point.y - before.y);
    return sum;
  });
}

/** Sectors of a stored bearing spread: as wide as the closest two, never wider than 30°. */
export function sectorWidth(bearings: readonly { bearingDeg: number }[]): number {
  const sorted = bearings.map(({ bearingDeg }) => bearingDeg).sort((a, b) => a - b);
  const gaps = sorted.map((bearing, index) => {
    const next = sorted[(index + 1) % sorted.length] ?? bearing;
    return (next - bearing + 360) % 360 || 360;
  });
  return Math.min(30, ...gaps);
}
