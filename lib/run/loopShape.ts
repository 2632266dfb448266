/** Share of a route's distance that runs towards a bearing (degrees clockwise from true north). */
export interface BearingShare {
  bearingDeg: number;
  share: number;
}

/** A point of a route drawn in local metres: x to the east, y to the north. */
export interface OutlinePoint {
  x: number;
  y: number;
}

/** Height along the way: distance from the start and height above sea level. */
export interface ElevationPoint {
  distanceM: number;
  heightM: number;
}
