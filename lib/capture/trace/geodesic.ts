/**
 * Lengths and bearings on the WGS 84 ellipsoid (NIMA TR8350.2: a = 6378137 m, 1/f = 298.257223563).
 *
 * Neighbouring trace points lie metres apart. There the principal radii of curvature at the middle latitude give the
 * length in a dozen operations: meridian M = a(1−e²)/w³ and prime vertical N = a/w with w = √(1 − e² sin²φ)
 * (Rapp, Geometric Geodesy I, 1991, 3.5). Against Karney's geodesics (J. Geodesy 87 (2013) 43) the error stays below
 * 1 part in 10⁷ up to 2 km and 80° of latitude; farther points and the polar caps take Karney's solution itself.
 */
import geodesic from 'geographiclib-geodesic';

const semiMajorM = 6_378_137;
const flattening = 1 / 298.257223563;
const eccentricity2 = flattening * (2 - flattening);
const radians = Math.PI / 180;
const nearDeg = 0.018;
const polarDeg = 80;

/** Metres east and north per degree at a latitude. */
export function metresPerDegree(latitudeDeg: number): { east: number; north: number } {
  const phi = latitudeDeg * radians;
  const sin = Math.sin(phi);
  const w2 = 1 - eccentricity2 * sin * sin;
  const primeVertical = semiMajorM / Math.sqrt(w2);
  return {
    east: primeVertical * Math.cos(phi) * radians,
    north: ((primeVertical * (1 - eccentricity2)) / w2) * radians,
  };
}

/** Length of the shortest line between two positions, m. */
export function distanceBetweenM(lat1Deg: number, lon1Deg: number, lat2Deg: number, lon2Deg: number): number {
  const dLat = lat2Deg - lat1Deg;
  const dLon = wrapDeg(lon2Deg - lon1Deg);
  const middle = (lat1Deg + lat2Deg) / 2;
  const { east, north } = metresPerDegree(middle);
  const isNear =
    Math.abs(dLat) < nearDeg && Math.abs(dLon) * east < nearDeg * north && Math.abs(middle) < polarDeg;
  if (isNear) return Math.hypot(dLon * east, dLat * north);
  return geodesic.Geodesic.WGS84.Inverse(lat1Deg, lon1Deg, lat2Deg, lon2Deg).s12 ?? Number.NaN;
}

/**
 * Direction of travel between two neighbouring positions at their middle, degrees clockwise from true north, 0 to below
 * 360: within 0.01° of the geodesic's over 1 km, where a wind's own direction is uncertain by 15°.
 */
export function bearingDeg(lat1Deg: number, lon1Deg: number, lat2Deg: number, lon2Deg: number): number {
  const { east, north } = metresPerDegree((lat1Deg + lat2Deg) / 2);
  const bearing = Math.atan2(wrapDeg(lon2Deg - lon1Deg) * east, (lat2Deg - lat1Deg) * north) / radians;
  return bearing < 0 ? bearing + 360 : bearing;
}

/** An angle difference brought into −180 (included) to 180. */
export function wrapDeg(angleDeg: number): number {
  return angleDeg >= -180 && angleDeg < 180 ? angleDeg : ((((angleDeg + 180) % 360) + 360) % 360) - 180;
}
