/**
 * Line simplification by Douglas and Peucker (Cartographica 10 (1973) 112): the fewest of a line's own places such that
 * none left out lies farther than the tolerance from the line through those kept. With a stack in place of recursion,
 * for a motorway has thousands of places.
 */
import { type Place, placeAt, type Route } from './route';

export function simplify(route: Route, from: number, to: number, toleranceM: number): Place[] {
  const keep = new Uint8Array(to + 1);
  keep[from] = 1;
  keep[to] = 1;
  const pending: [number, number][] = [[from, to]];
  for (let pair = pending.pop(); pair !== undefined; pair = pending.pop()) {
    const [a, b] = pair;
    let farthest = -1;
    let most = toleranceM;
    for (let k = a + 1; k < b; k++) {
      const off = offLineM(route, k, a, b);
      if (off > most) {
        most = off;
        farthest = k;
      }
    }
    if (farthest < 0) continue;
    keep[farthest] = 1;
    pending.push([a, farthest], [farthest, b]);
  }
  const places: Place[] = [];
  for (let k = from; k <= to; k++) if (keep[k] === 1) places.push(placeAt(route, k));
  return places;
}

/** From place k to the straight piece between a and b. */
function offLineM(route: Route, k: number, a: number, b: number): number {
  const x = (route.eastM[k] as number) - (route.eastM[a] as number);
  const y = (route.northM[k] as number) - (route.northM[a] as number);
  const dx = (route.eastM[b] as number) - (route.eastM[a] as number);
  const dy = (route.northM[b] as number) - (route.northM[a] as number);
  const length2 = dx * dx + dy * dy;
  const along = length2 > 0 ? Math.min(1, Math.max(0, (x * dx + y * dy) / length2)) : 0;
  return Math.hypot(x - along * dx, y - along * dy);
}
