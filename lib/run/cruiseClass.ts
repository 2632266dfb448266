/**
 * Cruise speed classes: the true speed that a run holds on the open legs.
 * A run is normalised to the exact speed of its class, and only runs of one class are ranked together.
 * The choice of speeds is our own: common motorway limits in km/h and mph.
 * The mile is exactly 1609.344 m (NIST SP 811).
 */
export interface CruiseClass {
  key: string;
  label: string;
  speedMps: number;
  ordinal: number;
}

const kmh = (speedKmh: number, ordinal: number): CruiseClass => ({
  key: `kmh-${speedKmh}`,
  label: `${speedKmh} km/h`,
  speedMps: speedKmh / 3.6,
  ordinal,
});

const mph = (speedMph: number, ordinal: number): CruiseClass => ({
  key: `mph-${speedMph}`,
  label: `${speedMph} mph`,
  speedMps: (speedMph * 1609.344) / 3600,
  ordinal,
});

export const CRUISE_CLASSES: readonly CruiseClass[] = [
  kmh(80, 1),
  kmh(90, 2),
  mph(60, 3),
  kmh(100, 4),
  mph(65, 5),
  kmh(110, 6),
  mph(70, 7),
  kmh(120, 8),
  mph(75, 9),
  kmh(130, 10),
];

export function cruiseClassByKey(key: string): CruiseClass | undefined {
  return CRUISE_CLASSES.find((cruiseClass) => cruiseClass.key === key);
}

/** A limit and a class of one number are one speed, however each was rounded on its way into metres per second. */
const SAME_SPEED_MPS = 0.01;

/** Posted limits and local law come first: a class above the loop's limit is never driven for this registry. */
export function isWithinPostedLimit(cruiseClass: CruiseClass, postedLimitMps: number): boolean {
  return cruiseClass.speedMps <= postedLimitMps + SAME_SPEED_MPS;
}
