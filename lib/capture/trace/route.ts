/**
 * The route as a line of evenly spaced places, in metres east and north of its first place: what turnaround, shared
 * share, bearings and loop matching work on. The plane is only used to compare places near each other, where its
 * distortion (below 5 % over a loop 300 km long north to south) does not matter; lengths come from the ellipsoid.
 */
import { bearingDeg, metresPerDegree, wrapDeg } from './geodesic';

export interface Place {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

export interface Route {
  readonly spacingM: number;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
}

/** Origin and scale of a plane, so that two routes can be laid over each other. */
export interface Plane {
  readonly origin: Place;
  readonly east: number;
  readonly north: number;
}

export function planeAt(origin: Place): Plane {
  return { origin, ...metresPerDegree(origin.latitudeDeg) };
}

export function toPlane(plane: Plane, place: Place): [number, number] {
  return [
    wrapDeg(place.longitudeDeg - plane.origin.longitudeDeg) * plane.east,
    (place.latitudeDeg - plane.origin.latitudeDeg) * plane.north,
  ];
}

/**
 * @param distanceM along the path at each point, not decreasing
 * @param spacingM wanted; the last step is stretched or shortened to end at the last point
 */
export function routeOf(
  latitudeDeg: Float64Array,
  longitudeDeg: Float64Array,
  distanceM: Float64Array,
  plane: Plane,
  spacingM = 25,
): Route {
  const totalM = distanceM.at(-1) ?? 0;
  const nodes = Math.max(2, Math.round(totalM / spacingM) + 1);
  const step = totalM / (nodes - 1);
  const lat = new Float64Array(nodes);
  const lon = new Float64Array(nodes);
  const eastM = new Float64Array(nodes);
  const northM = new Float64Array(nodes);
  let at = 0;
  for (let k = 0; k < nodes; k++) {
    const wanted = k * step;
    while (at + 2 < distanceM.length && (distanceM[at + 1] as number) < wanted) at++;
    const d0 = distanceM[at] as number;
    const d1 = distanceM[at + 1] ?? d0;
    const share = d1 > d0 ? Math.min(1, Math.max(0, (wanted - d0) / (d1 - d0))) : 0;
    const next = Math.min(at + 1, distanceM.length - 1);
    lat[k] = between(latitudeDeg[at] as number, latitudeDeg[next] as number, share);
    lon[k] = between(longitudeDeg[at] as number, longitudeDeg[next] as number, share);
    const [east, north] = toPlane(plane, { latitudeDeg: lat[k] as number, longitudeDeg: lon[k] as number });
    eastM[k] = east;
    northM[k] = north;
  }
  return { spacingM: step, eastM, northM, latitudeDeg: lat, longitudeDeg: lon };
}

export function placeAt(route: Route, node: number): Place {
  return { latitudeDeg: route.latitudeDeg[node] as number, longitudeDeg: route.longitudeDeg[node] as number };
}

/** Share of the first route's places that have the second within `corridorM`. */
export function shareNear(
  first: Route,
  second: Route,
  corridorM: number,
  firstFrom = 0,
  firstTo = first.eastM.length - 1,
  secondFrom = 0,
  secondTo = second.eastM.length - 1,
): number {
  const cells = new Map<string, number[]>();
  const cellOf = (value: number) => Math.floor(value / corridorM);
  for (let k = secondFrom; k <= secondTo; k++) {
    const key = `${cellOf(second.eastM[k] as number)} ${cellOf(second.northM[k] as number)}`;
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [k]);
    else cell.push(k);
  }
  const isNear = (east: number, north: number): boolean => {
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const k of cells.get(`${cellOf(east) + dx} ${cellOf(north) + dy}`) ?? []) {
          if (
            Math.hypot((second.eastM[k] as number) - east, (second.northM[k] as number) - north) <= corridorM
          ) {
            return true;
          }
        }
      }
    }
    return false;
  };
  let near = 0;
  for (let k = firstFrom; k <= firstTo; k++) {
    if (isNear(first.eastM[k] as number, first.northM[k] as number)) near++;
  }
  return near / (firstTo - firstFrom + 1);
}

/** How a route's direction is spread over its distance. */
export interface Bearings {
  /** Share of the distance in each of 36 sectors of 10°, the first from 0 to below 10° clockwise from north. */
  readonly sectorShares: readonly number[];
  /**
   * Distance-weighted means of cos θ, sin θ, cos 2θ, sin 2θ: enough for the exact mean and mean square of the head- and
   * crosswind of any steady wind (method A4).
   */
  readonly meanCos: number;
  readonly meanSin: number;
  readonly meanCos2: number;
  readonly meanSin2: number;
}

export function bearingsOf(route: Route, from = 0, to = route.eastM.length - 1): Bearings {
  const sectors = new Array<number>(36).fill(0);
  let [cos, sin, cos2, sin2, steps] = [0, 0, 0, 0, 0];
  for (let k = from; k < to; k++) {
    const [lat1, lon1] = [route.latitudeDeg[k] as number, route.longitudeDeg[k] as number];
    const [lat2, lon2] = [route.latitudeDeg[k + 1] as number, route.longitudeDeg[k + 1] as number];
    if (lat1 === lat2 && lon1 === lon2) continue;
    const bearing = bearingDeg(lat1, lon1, lat2, lon2);
    const theta = (bearing * Math.PI) / 180;
    const sector = Math.floor(bearing / 10) % 36;
    sectors[sector] = (sectors[sector] as number) + 1;
    cos += Math.cos(theta);
    sin += Math.sin(theta);
    cos2 += Math.cos(2 * theta);
    sin2 += Math.sin(2 * theta);
    steps++;
  }
  const n = Math.max(1, steps);
  return {
    sectorShares: sectors.map((count) => count / n),
    meanCos: cos / n,
    meanSin: sin / n,
    meanCos2: cos2 / n,
    meanSin2: sin2 / n,
  };
}

function between(a: number, b: number, share: number): number {
  return a + share * (b - a);
}
